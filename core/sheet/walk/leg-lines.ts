/** Legs on paper: straight from end to end, bent where the shortest way on the ground is bent on this sheet. */
import { direct, inverse } from "../../geodesy/geodesic.ts";
import type { LonLat } from "../../units/position.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";
import type { PaperPoint } from "../page/page.ts";

const BENT_MM = 0.1;
/** Pieces of a bent leg. */
const PIECES = 64;

/** x, y, x, y … on the page; null where the sheet's grid has no value for an end, or both ends are the same. */
export function legOnPaper(from: LonLat, to: LonLat, frame: SheetFrame): Float64Array | null {
  try {
    const [a, b] = [frame.toPaper(from), frame.toPaper(to)];
    if (!(Math.hypot(b[0] - a[0], b[1] - a[1]) > 1e-6)) return null;
    const { bearing, distanceM } = inverse(from, to);
    if (bearing === null) return null;
    const at = (share: number): PaperPoint => frame.toPaper(direct(from, bearing, distanceM * share));
    const middle = at(0.5);
    const off = Math.hypot(middle[0] - (a[0] + b[0]) / 2, middle[1] - (a[1] + b[1]) / 2);
    if (!(off > BENT_MM)) return Float64Array.of(...a, ...b);
    return Float64Array.from(Array.from({ length: PIECES + 1 }, (_, i) => at(i / PIECES)).flat());
  } catch {
    return null;
  }
}

/** The line without its first and last millimetres; null when nothing is left. */
export function shortened(line: Float64Array, startMm: number, endMm: number): Float64Array | null {
  const cut = cutStart(line, startMm);
  const back = cut && cutStart(reversed(cut), endMm);
  return back ? reversed(back) : null;
}

function cutStart(line: Float64Array, mm: number): Float64Array | null {
  let left = mm;
  for (let i = 2; i < line.length; i += 2) {
    const [ax, ay, bx, by] = line.slice(i - 2, i + 2) as unknown as [number, number, number, number];
    const length = Math.hypot(bx - ax, by - ay);
    if (length > left) {
      const rest = line.slice(i - 2);
      rest[0] = ax + ((bx - ax) * left) / length;
      rest[1] = ay + ((by - ay) * left) / length;
      return rest;
    }
    left -= length;
  }
  return null;
}

function reversed(line: Float64Array): Float64Array {
  const out = new Float64Array(line.length);
  for (let i = 0; i < line.length; i += 2) {
    out[line.length - 2 - i] = line[i] as number;
    out[line.length - 1 - i] = line[i + 1] as number;
  }
  return out;
}
