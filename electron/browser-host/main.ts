/** Serves the window from this computer and opens it in the browser; runs until it is interrupted. */
import { join } from "node:path";
import { findApp } from "../services/app-folder.ts";
import { filesAmong, GivenFiles } from "../services/given-files.ts";
import { nodeServices } from "../services/node-services.ts";
import { openBrowser } from "./open-browser.ts";
import { pageFiles } from "./page-files.ts";
import { startBrowserHost } from "./server.ts";

const say = (line: string): void => void process.stdout.write(`${line}\n`);

const app = findApp();
const given = new GivenFiles();
given.give(filesAmong(process.argv.slice(2), process.cwd()));
const host = await startBrowserHost({
  services: nodeServices(app, pageFiles, given),
  windowFolder: join(app.folder, "dist/renderer"),
  onUsedAddress: (fresh) => say(`That address had been used already. A fresh one: ${fresh}`),
});
const shown = await openBrowser(host.entrance());
say(
  shown
    ? `Legwright is open in the browser. If you do not see it: ${host.entrance()}`
    : `Open this address in a browser on this computer: ${host.entrance()}`,
);
say("Press Ctrl+C to end.");
for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) {
  process.once(signal, () => void host.close().then(() => process.exit(0)));
}
