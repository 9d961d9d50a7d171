import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { Fault } from "../../core/fault.ts";
import { parseWalk } from "../../core/walk/walk-file.ts";
import { decode } from "./walk-files.ts";

/**
 * The walk that ships beside the sample map.
 * @throws Fault "no-file" when it is missing, "bad-walk" when it does not name its map
 */
export async function readDemoWalk(folder: string): Promise<{ text: string; mapId: string }> {
  const names = await readdir(folder).catch(() => []);
  const name = names.filter((file) => file.endsWith(".walk.geojson")).sort()[0];
  if (!name)
    throw new Fault(
      "no-file",
      "The demo walk is missing from this copy of the app.",
      null,
      "Install the app again.",
    );
  const text = decode(await readFile(join(folder, name)), name);
  const { mapId } = parseWalk(text, name, new Date().toISOString().slice(0, 10)).walk;
  if (mapId === null)
    throw new Fault(
      "bad-walk",
      "The demo walk does not say which map it is on.",
      name,
      "Install the app again.",
    );
  return { text, mapId };
}
