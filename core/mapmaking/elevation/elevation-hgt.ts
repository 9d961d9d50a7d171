/**
 * Reads elevation models of the .hgt kind: one degree of 16-bit heights, most significant byte first, rows from the
 * north, whose south-western sample is in the file's name. Their edges are shared with their neighbours.
 * Source: SRTM topography documentation, NASA/USGS (SRTM_Topo.txt), sections 2.1.2 and 3.1.
 */
import { Fault } from "../../fault.ts";
import { WGS84 } from "./elevation-grid.ts";
import { type ElevationFile, type ElevationModel, FOOT_M, type ReadOptions } from "./elevation-model.ts";

const VOID = -32768;
/** Samples a side: one and three seconds of arc, and one second with columns at every two (beyond 50° of latitude). */
const SIZES: readonly (readonly [columns: number, rows: number])[] = [
  [3601, 3601],
  [1201, 1201],
  [1801, 3601],
];

/** South-western corner by the name, like N46W133.hgt; null when the name does not tell it. */
export function cornerOfName(name: string): readonly [lon: number, lat: number] | null {
  const [, ns, lat, ew, lon] = /(?:^|[^a-z0-9])([ns])(\d{1,2})([ew])(\d{1,3})(?!\d)/i.exec(name) ?? [];
  if (ns === undefined || lat === undefined || ew === undefined || lon === undefined) return null;
  const corner = [(/w/i.test(ew) ? -1 : 1) * Number(lon), (/s/i.test(ns) ? -1 : 1) * Number(lat)] as const;
  return corner[0] >= -180 && corner[0] < 180 && corner[1] >= -90 && corner[1] < 90 ? corner : null;
}

/** @throws Fault "bad-elevation" for another size, "no-crs" for a name without a corner */
export function openHgt(file: ElevationFile, options: ReadOptions): ElevationModel {
  const size = SIZES.find(([columns, rows]) => columns * rows * 2 === file.sizeBytes);
  if (!size)
    throw new Fault(
      "bad-elevation",
      `A .hgt file has ${SIZES.map(([columns, rows]) => columns * rows * 2).join(", ")} bytes, this one ${file.sizeBytes}: it was cut off, or is something else.`,
      file.key,
      "Copy or download it again.",
    );
  const corner = cornerOfName(file.key);
  if (!corner)
    throw new Fault(
      "no-crs",
      "A .hgt file tells where it lies by its name alone, and this name does not.",
      file.key,
      "Name it after its south-western corner, like N46W133.hgt.",
    );
  const [columns, rows] = size;
  const unitM = options.heightUnit === "ft" ? FOOT_M : 1;
  return {
    key: file.key,
    columns,
    rows,
    origin: [corner[0], corner[1] + 1],
    step: [1 / (columns - 1), -1 / (rows - 1)],
    crs: WGS84,
    notes: [],
    async heights(window, tick) {
      const heights = new Float32Array(window.columns * window.rows);
      // A hundred rows or so at a time.
      const rowsAtOnce = 128;
      for (let from = 0; from < window.rows; from += rowsAtOnce) {
        const count = Math.min(rowsAtOnce, window.rows - from);
        const start = (window.row + from) * columns + window.column;
        const bytes = await file.read(2 * start, 2 * ((count - 1) * columns + window.columns));
        const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
        for (let row = 0; row < count; row++)
          for (let column = 0; column < window.columns; column++) {
            const at = 2 * (row * columns + column);
            if (at + 2 > bytes.length)
              throw new Fault("bad-elevation", "The file became shorter while it was read.", file.key);
            const value = view.getInt16(at);
            heights[(from + row) * window.columns + column] = value === VOID ? Number.NaN : value * unitM;
          }
        await tick?.((from + count) / window.rows);
      }
      return heights;
    },
  };
}
