/** Parts of a leg: where it runs within areas, and how such parts are told. */
import type { LegFrame } from "../geodesy/leg-frame.ts";
import type { AreaFeature } from "../map/features.ts";
import type { LengthUnit } from "../units/format.ts";
import { lengthInNote } from "./leg-words.ts";

/** From the leg's start, metres. */
export interface Stretch {
  readonly fromM: number;
  readonly toM: number;
}

/** Stretches nearer than this are one: what a tile's edge cuts. */
const ONE_AREA_M = 2;

/**
 * The stretches of a leg within areas, in order.
 * @param areas of one kind; pieces of one area from several tiles are joined
 */
export function stretchesWithin(frame: LegFrame, areas: readonly AreaFeature[]): Stretch[] {
  const parts = areas.flatMap((area) => inside(frame, area)).sort((a, b) => a.fromM - b.fromM);
  const joined: Stretch[] = [];
  for (const part of parts) {
    const last = joined.at(-1);
    if (last && part.fromM - last.toM <= ONE_AREA_M)
      joined[joined.length - 1] = { fromM: last.fromM, toM: Math.max(last.toM, part.toM) };
    else joined.push(part);
  }
  return joined;
}

/** By even and odd: where the line of the leg crosses the rings, in and out in turn. */
function inside(frame: LegFrame, { rings }: AreaFeature): Stretch[] {
  const met: number[] = [];
  for (const ring of rings) {
    const st = new Float64Array(ring.length);
    frame.project(ring, 0, ring.length >> 1, st);
    for (let i = 0; i + 3 < st.length; i += 2) {
      const [t0, t1] = [st[i + 1] as number, st[i + 3] as number];
      if (t0 > 0 === t1 > 0) continue;
      met.push((st[i] as number) + ((st[i + 2] as number) - (st[i] as number)) * (t0 / (t0 - t1)));
    }
  }
  met.sort((a, b) => a - b);
  const parts: Stretch[] = [];
  for (let i = 0; i + 1 < met.length; i += 2) {
    const fromM = Math.max(0, met[i] as number);
    const toM = Math.min(frame.lengthM, met[i + 1] as number);
    if (toM > fromM) parts.push({ fromM, toM });
  }
  return parts;
}

const MOST_STRETCHES = 4;

/** "from 300 m to 420 m, from 500 m on", "up to 80 m" */
export function stretchesWords(parts: readonly Stretch[], lengthM: number, unit: LengthUnit): string {
  const shown = parts.slice(0, MOST_STRETCHES).map((part) => oneInWords(part, lengthM, unit));
  return `${shown.join(", ")}${parts.length > MOST_STRETCHES ? " and farther on" : ""}`;
}

function oneInWords({ fromM, toM }: Stretch, lengthM: number, unit: LengthUnit): string {
  const from = lengthInNote(fromM, unit);
  if (fromM <= 0) return `up to ${lengthInNote(toM, unit)}`;
  return toM >= lengthM ? `from ${from} on` : `from ${from} to ${lengthInNote(toM, unit)}`;
}
