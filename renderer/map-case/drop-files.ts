/** Files dropped on the window: archives go into the case, data into the map that is to be made, walks are brought in. */
import { say, sayFault } from "../app/notices.ts";
import { ask, openDialogs } from "../dialogs/dialogs.ts";
import { FOREIGN, takeForeign } from "../exchange/take-foreign.ts";
import { addDataFiles, looksLikeElevation } from "../make-map/data-files.ts";
import { making } from "../make-map/making.ts";
import { mapWords } from "../words/map-words.ts";
import { addTaken } from "./case-actions.ts";
import { takeFiles } from "./take-files.ts";

const ARCHIVE = /\.(pmtiles|mbtiles)$/i;
/** Files that are data for a map whatever is open. */
const DATA = /\.(osm|pbf|shp|dbf|shx|prj|cpg)$/i;
const MAY_BE_DATA = /\.(zip|geojson|geojsonl|geojsons|ndjson|json|gpx|kml|kmz)$/i;

const hasFiles = (event: DragEvent): boolean => event.dataTransfer?.types.includes("Files") === true;
const isOpen = (kind: "maps" | "make-map"): boolean =>
  openDialogs.peek().some((dialog) => dialog.kind === kind);

export function listenToDrops(): void {
  const root = document.documentElement;
  // Files held over the window; a drag that goes from one element to another enters before it leaves.
  let over = 0;
  const mark = (count: number): void => {
    over = Math.max(0, count);
    if (over > 0) root.dataset["dropping"] = "";
    else delete root.dataset["dropping"];
  };
  window.addEventListener("dragenter", (event) => hasFiles(event) && mark(over + 1));
  window.addEventListener("dragleave", (event) => hasFiles(event) && mark(over - 1));
  window.addEventListener("dragover", (event) => {
    if (!hasFiles(event)) return;
    // Without this a browser would open the file in place of the window.
    event.preventDefault();
    if (event.dataTransfer) event.dataTransfer.dropEffect = "copy";
  });
  window.addEventListener("drop", (event) => {
    if (!hasFiles(event)) return;
    event.preventDefault();
    mark(0);
    void take([...(event.dataTransfer?.files ?? [])]).catch(sayFault);
  });
}

async function take(files: readonly File[]): Promise<void> {
  const onMaking = isOpen("make-map") && making.peek() === null;
  const archives = files.filter(({ name }) => ARCHIVE.test(name));
  const data = files.filter(
    ({ name }) => looksLikeElevation(name) || DATA.test(name) || (onMaking && MAY_BE_DATA.test(name)),
  );
  const others = files.filter((file) => !archives.includes(file) && !data.includes(file));
  const walks = others.filter(({ name }) => FOREIGN.test(name));
  for (const file of others) if (!walks.includes(file)) say(mapWords.notTaken(file.name));
  // One walk is looked at a time.
  const [first, ...rest] = walks;
  if (first) await takeForeign(first);
  for (const file of rest) say(mapWords.notTaken(file.name));
  if (archives.length > 0) {
    // There it shows how far a copy is.
    if (!isOpen("maps") && !isOpen("make-map")) void ask("maps", null);
    await addTaken(await takeFiles(archives));
  }
  if (data.length > 0) {
    if (!isOpen("make-map")) void ask("make-map", null);
    await addDataFiles(await takeFiles(data));
  }
}
