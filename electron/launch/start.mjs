/** `npm start -- FILE …`: installs, builds, then opens the window: Electron's, or without Electron the browser's. */
import { spawn } from "node:child_process";
import { join, resolve } from "node:path";
import { APP_FOLDER, checkNode } from "./app-folder.mjs";
import { electronBinary } from "./electron-binary.mjs";
import { ensureBuilt } from "./ensure-built.mjs";
import { ensureInstalled } from "./ensure-installed.mjs";
import { fetchElectron } from "./fetch-electron.mjs";

checkNode();
await ensureInstalled();
await ensureBuilt(["shell", "window"]);

const electron = electronBinary() ?? ((await fetchElectron()) ? electronBinary() : null);
// npm runs a script in the folder of package.json; file names were meant from where the person stands.
const standing = (process.env.npm_lifecycle_event === "start" && process.env.INIT_CWD) || process.cwd();
const args = process.argv.slice(2).map((arg) => (arg.startsWith("-") ? arg : resolve(standing, arg)));
if (!electron) {
  process.stdout.write(
    "Electron is not on this computer and could not be fetched: opening the same window in the browser instead.\n",
  );
}
const child = electron
  ? spawn(electron, [APP_FOLDER, ...args], { stdio: "inherit" })
  : spawn(process.execPath, [join(APP_FOLDER, "dist/electron/browser-host.js"), ...args], {
      stdio: "inherit",
    });
for (const signal of ["SIGINT", "SIGTERM"]) process.on(signal, () => child.kill(signal));
child.on("error", (error) => {
  process.stderr.write(`legwright: the window could not be opened: ${error.message}\n`);
  process.exitCode = 1;
});
child.on("close", (code) => (process.exitCode = code ?? 1));
