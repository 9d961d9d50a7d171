/** Shapefiles: .shp with .dbf, .prj and .cpg beside it. Source: ESRI Shapefile Technical Description, July 1998. */
import { openDbf } from "./dbf.ts";
import {
  badFeatures,
  decoding,
  exactly,
  type FeatureFile,
  piecesOf,
  type Tick,
  wholeFile,
} from "../../files/feature-file.ts";
import type { Emit, Passed, Shape, Tags } from "./raw-feature.ts";
import { nestRings } from "./rings.ts";
import { type CrsNamed, type FileCrs, toWgs84, type ToWgs84 } from "./to-wgs84.ts";
import { Fault } from "../../fault.ts";

const HEAD_BYTES = 100;
/** One record. A country's coast in full detail has about 50 MB. No source. */
const MOST_RECORD_BYTES = 2 ** 27;
const MOST_SIDE_FILE_BYTES = 2 ** 16;

/**
 * @param crs for a file without a .prj; null when none was named
 * @param crsNamed finds a system by its WKT
 * @returns the system used, and how text was read
 * @throws Fault "bad-features" naming the record, "no-crs" when nothing says where on earth it lies
 */
export async function readShapefile(
  file: FeatureFile,
  crs: FileCrs | null,
  crsNamed: CrsNamed,
  emit: Emit,
  passed: Passed,
  tick: Tick,
): Promise<{ readonly crs: FileCrs; readonly encoding: string | null }> {
  const head = await exactly(file, 0, HEAD_BYTES, "its head");
  if (new DataView(head.buffer, head.byteOffset, HEAD_BYTES).getInt32(0) !== 9994)
    throw badFeatures("This is no shapefile.", `${file.key}, byte 0`);
  const prj = await textBeside(file, "prj");
  const used = prj ? await crsNamed(prj, `the .prj of ${file.key}`) : crs;
  if (!used)
    throw new Fault(
      "no-crs",
      "The shapefile has no .prj beside it: nothing says where on earth it lies.",
      file.key,
      "Put the .prj beside it, or name its coordinate system by --features-crs.",
    );
  const place = toWgs84(used, file.key);
  const cpg = await textBeside(file, "cpg");
  const table = await file.beside?.("dbf");
  const dbf = table ? await openDbf(table, cpg) : null;

  let index = 0;
  let at = HEAD_BYTES;
  let held: Uint8Array = new Uint8Array(0);
  for await (const piece of piecesOf(file, tick, HEAD_BYTES)) {
    const bytes = new Uint8Array(held.length + piece.length);
    bytes.set(held);
    bytes.set(piece, held.length);
    const view = new DataView(bytes.buffer);
    const records: DataView[] = [];
    let p = 0;
    while (p + 8 <= bytes.length) {
      const length = 2 * view.getUint32(p + 4);
      if (length < 4 || length > MOST_RECORD_BYTES)
        throw badFeatures(
          `A record would have ${length} bytes.`,
          `${file.key}, record ${index + records.length + 1}, byte ${at + p}`,
        );
      if (p + 8 + length > bytes.length) break;
      records.push(new DataView(bytes.buffer, p + 8, length));
      p += 8 + length;
    }
    held = bytes.subarray(p);
    at += p;
    if (records.length === 0) continue;
    if (dbf && index + records.length > dbf.records)
      throw badFeatures(`The shapes are more than the ${dbf.records} records of the table.`, file.key);
    const tags = dbf ? await dbf.read(index, records.length) : [];
    records.forEach((record, i) => {
      const where = `record ${index + i + 1}`;
      const own = dbf ? tags[i]! : {};
      if (own) emitRecord(record, own, where, file.key, place, emit, passed);
    });
    index += records.length;
  }
  if (held.length > 0)
    throw badFeatures(`The file is cut short within record ${index + 1}.`, `${file.key}, byte ${at}`);
  return { crs: used, encoding: dbf?.encoding ?? null };
}

async function textBeside(file: FeatureFile, ending: string): Promise<string | null> {
  const side = await file.beside?.(ending);
  if (!side) return null;
  return new TextDecoder("utf-8")
    .decode(await wholeFile(side, MOST_SIDE_FILE_BYTES))
    .replaceAll("\0", "")
    .trim();
}

function emitRecord(
  view: DataView,
  tags: Tags,
  where: string,
  file: string,
  place: ToWgs84,
  emit: Emit,
  passed: Passed,
): void {
  const type = view.getInt32(0, true);
  if (type === 0) {
    passed.noShape++;
    return;
  }
  const shapes = decoding("A record", `${file}, ${where}`, (): Shape[] | null => {
    // 1 point, 3 lines, 5 areas, 8 points; 10 more with heights, 20 more with measures.
    const kind = type % 10;
    if (type > 28 || type < 0) return null;
    if (kind === 1) return [{ type: "point", coords: place(pairs(view, 4, 1), where) }];
    if (kind === 8) {
      const all = place(pairs(view, 40, view.getUint32(36, true)), where);
      return Array.from({ length: all.length / 2 }, (_, i) => ({
        type: "point" as const,
        coords: all.slice(2 * i, 2 * i + 2),
      }));
    }
    if (kind !== 3 && kind !== 5) return null;
    const parts = partsOf(view).map((part) => place(part, where));
    if (kind === 3)
      return parts.filter((part) => part.length >= 4).map((coords) => ({ type: "line", coords }));
    for (const ring of parts)
      if (ring.length < 8 || ring[0] !== ring.at(-2) || ring[1] !== ring.at(-1))
        throw badFeatures("A ring of an area is not closed.", `${file}, ${where}`);
    const polygons = nestRings(parts);
    return polygons.length > 0 ? [{ type: "area", polygons }] : [];
  });
  if (shapes === null) passed.unknownShape++;
  else if (shapes.length === 0) passed.noShape++;
  else for (const shape of shapes) emit({ where, tags, shape });
}

function pairs(view: DataView, at: number, count: number): Float64Array {
  if (at + 16 * count > view.byteLength) throw new Error("it has more positions than bytes");
  const coords = new Float64Array(2 * count);
  for (let i = 0; i < coords.length; i++) coords[i] = view.getFloat64(at + 8 * i, true);
  return coords;
}

function partsOf(view: DataView): Float64Array[] {
  const parts = view.getUint32(36, true);
  const points = view.getUint32(40, true);
  const first = 44 + 4 * parts;
  if (first + 16 * points > view.byteLength) throw new Error("it has more parts or positions than bytes");
  return Array.from({ length: parts }, (_, i) => {
    const from = view.getUint32(44 + 4 * i, true);
    const to = i + 1 < parts ? view.getUint32(48 + 4 * i, true) : points;
    if (!(from <= to && to <= points)) throw new Error("its parts are out of order");
    return pairs(view, first + 16 * from, to - from);
  });
}
