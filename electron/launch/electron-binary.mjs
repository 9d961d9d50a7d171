import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";

/**
 * Path of the Electron executable, or null when it is not on this computer. The package itself must not be loaded to
 * ask: its entry point fetches the executable when it is missing.
 */
export function electronBinary() {
  let folder;
  try {
    folder = dirname(createRequire(import.meta.url).resolve("electron/package.json"));
  } catch {
    return null;
  }
  const name = readName(join(folder, "path.txt"));
  const override = process.env.ELECTRON_OVERRIDE_DIST_PATH;
  if (override) {
    const path = join(override, name ?? "electron");
    return existsSync(path) ? path : null;
  }
  if (!name) return null;
  const path = join(folder, "dist", name);
  return existsSync(path) ? path : null;
}

function readName(path) {
  try {
    return readFileSync(path, "utf8").trim() || null;
  } catch {
    return null;
  }
}
