/** `npm run -s legwright -- …`: the command line. Set-up talks on stderr; stdout is the command's product alone. */
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { APP_FOLDER, checkNode } from "./app-folder.mjs";
import { ensureBuilt } from "./ensure-built.mjs";
import { ensureInstalled } from "./ensure-installed.mjs";

checkNode();
await ensureInstalled();
await ensureBuilt(["shell"]);
const { run } = await import(pathToFileURL(join(APP_FOLDER, "dist/electron/cli.js")).href);
process.exitCode = await run(process.argv.slice(2));
