import { randomBytes } from "node:crypto";
import { promises as fs } from "node:fs";
import { basename, join } from "node:path";
import { Fault } from "../../core/fault.ts";
import { fileFault } from "./file-faults.ts";
import { bareName } from "./file-name.ts";

/** What else a disk needs to be worked on. No source. */
const SPARE_BYTES = 64 * 2 ** 20;
const KINDS =
  /\.(pmtiles|mbtiles|tiff?|hgt|asc|prj|zip|pbf|osm|geojson|geojsonl|geojsons|ndjson|json|gpx|kml|kmz|shp|dbf|shx|cpg)$/i;

/**
 * A file that comes piece by piece from a page, into a folder: under a hidden name until all of it is there, then under its
 * own. A file of that name stays as it is.
 * @param sizeBytes how much is to come; more, or less, is refused
 * @returns where it lies
 * @throws Fault "not-allowed" for a name that is none or a kind that is of no use, "exists", "no-space", "cancelled"
 */
export async function takeUpload(
  folder: string,
  name: string,
  sizeBytes: number,
  pieces: AsyncIterable<Uint8Array>,
): Promise<string> {
  const path = join(folder, bareName(name));
  if (!KINDS.test(name))
    throw new Fault(
      "not-allowed",
      "This is no file that a map can be or be made of.",
      name,
      "Drop a map archive, an elevation model or a file of features.",
    );
  const temporary = join(folder, `.${basename(path).slice(0, 80)}.${randomBytes(6).toString("hex")}.tmp`);
  const exists = (): Fault =>
    new Fault(
      "exists",
      "There is a file of this name already.",
      name,
      "Choose that one, or give yours another name.",
    );
  let written = 0;
  let file: fs.FileHandle | null = null;
  try {
    await fs.mkdir(folder, { recursive: true });
    if (await fs.stat(path).catch(() => null)) throw exists();
    const disk = await fs.statfs(folder).catch(() => null);
    if (disk && sizeBytes + SPARE_BYTES > disk.bavail * disk.bsize)
      throw new Fault("no-space", "There is no room on the disk for this file.", name, "Free some space.");
    file = await fs.open(temporary, "wx", 0o666);
    for await (const piece of pieces) {
      written += piece.length;
      if (written > sizeBytes)
        throw new Fault("bad-argument", "More came of the file than was said.", name, "Drop it again.");
      await file.writeFile(piece);
    }
    if (written < sizeBytes)
      throw new Fault("cancelled", "The file did not come whole.", name, "Drop it again.");
    await file.sync();
    await file.close();
    file = null;
    // A link fails when the name was taken meanwhile; not every disk has links.
    await fs.link(temporary, path).then(
      () => fs.unlink(temporary),
      (error: NodeJS.ErrnoException) => {
        if (error.code === "EEXIST") throw exists();
        return fs.rename(temporary, path);
      },
    );
    return path;
  } catch (error) {
    await file?.close();
    await fs.unlink(temporary).catch(() => undefined);
    throw fileFault(error, path, "could not be taken in");
  }
}
