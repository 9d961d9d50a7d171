import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Fault } from "../../core/fault.ts";

/**
 * Where a thread's program lies: built, beside the host's own entries; sources run by themselves take it from there too.
 * @param name its entry in the build, without ending
 * @throws Fault "unavailable" when it was not built
 */
export function builtWorker(name: string): URL {
  for (const place of [`./${name}.js`, `../${name}.js`, `../../dist/electron/${name}.js`]) {
    const url = new URL(place, import.meta.url);
    if (existsSync(fileURLToPath(url))) return url;
  }
  throw new Fault("unavailable", "A part of the program is not there.", `${name}.js`, "Build it anew.");
}
