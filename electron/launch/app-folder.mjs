import { fileURLToPath } from "node:url";

/** The folder with package.json, whatever folder the command was given in. */
export const APP_FOLDER = fileURLToPath(new URL("../../", import.meta.url));

/** One clear line on stderr, then out. */
export function stop(message, code = 1) {
  process.stderr.write(`legwright: ${message}\n`);
  process.exit(code);
}

/** The packages and the build target need it; anything older fails later with something unreadable. */
export function checkNode() {
  const major = Number(process.versions.node.split(".")[0]);
  if (major < 20) stop(`Node ${process.versions.node} is too old. Install Node 20 or newer.`);
}
