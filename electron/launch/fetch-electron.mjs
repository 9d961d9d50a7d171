import { spawn } from "node:child_process";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";

/** A slow line takes minutes for the 100 MB; one that answers nothing fails much sooner by itself. */
const LONGEST_MS = 10 * 60_000;

/**
 * Lets the electron package fetch its executable, once. Never throws and needs nothing to succeed: the browser host
 * serves the same window. Not tried when the person said where Electron lies, or not to fetch it.
 * @returns whether there is an executable now, as far as the fetch can tell
 */
export async function fetchElectron(env = process.env, script = installScript(), longestMs = LONGEST_MS) {
  if (!script || env.ELECTRON_OVERRIDE_DIST_PATH || env.ELECTRON_SKIP_BINARY_DOWNLOAD) return false;
  process.stderr.write("legwright: fetching the Electron runtime, once …\n");
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [script], { stdio: "ignore", env, timeout: longestMs });
    child.on("error", () => resolve(false));
    child.on("close", (code) => resolve(code === 0));
  });
}

function installScript() {
  try {
    return join(dirname(createRequire(import.meta.url).resolve("electron/package.json")), "install.js");
  } catch {
    return null;
  }
}
