import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { APP_FOLDER, stop } from "./app-folder.mjs";

/** What is built, from what, by which configuration, and a file that proves it is there. */
const PARTS = {
  shell: {
    sources: ["core", "electron", "package-lock.json"],
    config: "electron/vite.config.ts",
    product: "dist/electron/cli.js",
  },
  window: {
    sources: ["core", "renderer", "electron/contract.ts", "package-lock.json"],
    config: "renderer/vite.config.ts",
    product: "dist/renderer/index.html",
  },
};

/** Names, sizes and dates of all sources: a deleted or a restored older file shows too, unlike with the newest date alone. */
function fingerprint(sources) {
  const hash = createHash("sha256");
  const visit = (path) => {
    const full = join(APP_FOLDER, path);
    const stat = statSync(full, { throwIfNoEntry: false });
    if (!stat) return;
    if (stat.isDirectory()) for (const name of readdirSync(full).sort()) visit(`${path}/${name}`);
    else hash.update(`${path}\0${stat.size}\0${stat.mtimeMs}\n`);
  };
  for (const source of sources) visit(source);
  return hash.digest("hex");
}

/**
 * Builds the named parts whose sources changed since they were last built.
 * @param {readonly ("shell" | "window")[]} parts
 */
export async function ensureBuilt(parts) {
  for (const part of parts) {
    if (isBuilt(part)) continue;
    const release = await takeTurn();
    try {
      // Another run may have built it while this one waited.
      if (isBuilt(part)) continue;
      const { sources, config } = PARTS[part];
      process.stderr.write(`legwright: building the ${part} …\n`);
      rmSync(stampOf(part), { force: true });
      const before = fingerprint(sources);
      await build(config, part);
      // The fingerprint from before the build: a file changed meanwhile is built again next time.
      writeFileSync(stampOf(part), before);
    } finally {
      release();
    }
  }
}

const stampOf = (part) => join(APP_FOLDER, "dist", `.${part}-built`);

function isBuilt(part) {
  const { sources, product } = PARTS[part];
  return existsSync(join(APP_FOLDER, product)) && read(stampOf(part)) === fingerprint(sources);
}

/** Two runs at once must not empty the folder under each other. A turn left by a killed run ends after two minutes. */
async function takeTurn() {
  const turn = join(APP_FOLDER, "dist", ".building");
  mkdirSync(join(APP_FOLDER, "dist"), { recursive: true });
  for (;;) {
    try {
      mkdirSync(turn);
      const release = () => rmSync(turn, { recursive: true, force: true });
      process.once("exit", release);
      return release;
    } catch (error) {
      if (error.code !== "EEXIST") stop(`nothing can be built here: ${error.message}`);
      const since = statSync(turn, { throwIfNoEntry: false })?.mtimeMs ?? 0;
      if (Date.now() - since > 120_000) rmSync(turn, { recursive: true, force: true });
      else await new Promise((resolve) => setTimeout(resolve, 100));
    }
  }
}

async function build(config, part) {
  // By path: the packages may only just have been installed.
  const vite = await import(pathToFileURL(join(APP_FOLDER, "node_modules/vite/dist/node/index.js")).href);
  // Vite writes progress to stdout, which belongs to the product of a command.
  const logger = vite.createLogger("error");
  const toStderr = (text) => process.stderr.write(`${text}\n`);
  const quiet = { ...logger, info() {}, warn() {}, warnOnce() {}, error: toStderr };
  try {
    const builder = await vite.createBuilder(
      { configFile: join(APP_FOLDER, config), customLogger: quiet, logLevel: "error" },
      null,
    );
    await builder.buildApp();
  } catch (error) {
    const text = error instanceof Error ? error.message : String(error);
    const lines = text.split("\n").map((line) => line.trim());
    stop(
      `the ${part} could not be built: ${lines.filter((line) => line && !line.startsWith("at ")).join(" ")}`,
    );
  }
}

function read(path) {
  try {
    return readFileSync(path, "utf8");
  } catch {
    return null;
  }
}
