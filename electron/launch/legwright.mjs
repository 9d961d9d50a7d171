/** `npm run -s legwright -- …`: the command line. Set-up talks on stderr; stdout is the command's product alone. */
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { APP_FOLDER, checkNode } from "./app-folder.mjs";
import { ensureBuilt } from "./ensure-built.mjs";
import { ensureInstalled } from "./ensure-installed.mjs";

checkNode();
// npm runs a script in the folder of package.json; file names were meant from where the person stands.
if (process.env.npm_lifecycle_event === "legwright" && process.env.INIT_CWD)
  process.chdir(process.env.INIT_CWD);
await ensureInstalled();
await ensureBuilt(["shell"]);
const { run } = await import(pathToFileURL(join(APP_FOLDER, "dist/electron/cli.js")).href);
process.exitCode = await run(process.argv.slice(2));
