/** Spurs, draws, ridges and valleys a leg goes across or along. */
import type { Area } from "./area.ts";
import { type Bend, bendOf, kindOf, sideRelief } from "./crest.ts";
import { between } from "./height-grid.ts";
import type { LandformKind } from "./landform.ts";
import { FIT_M, type Quadric } from "./surface-fit.ts";

export interface LegLandform {
  readonly kind: LandformKind;
  readonly name: string | null;
  readonly fromM: number;
  readonly toM: number;
  /** Where its crest, trough, top, lowest or nearest place is met, metres from the start. */
  readonly atM: number;
  /** "across": over a crest, through a trough, over a top or a saddle; "along": on the crest or in the trough. */
  readonly way: "across" | "along";
  /** As `Landform.reliefM`. */
  readonly reliefM: number;
  /** A sentence for someone walking it, without distances. */
  readonly words: string;
}

/** A place on the leg, where it lies in the grid, and how the ground bends there. */
export interface Look {
  readonly s: number;
  readonly column: number;
  readonly row: number;
  readonly ground: Quadric;
  readonly crest: Bend | null;
  readonly trough: Bend | null;
}

/** A leg that meets a line at a smaller angle goes along it: sine of 20°. No source. */
const ALONG = Math.sin(Math.PI / 9);
/** So near a crest or trough one is on it, metres; it counts from this length on. No source. */
const ON_M = 40;
const LEAST_ALONG_M = 100;
/** The two sides of a crest or trough are sought this far. */
const MOST_SIDE_M = 400;

const ACROSS = {
  spur: "Cross a spur.",
  ridge: "Cross a ridge.",
  draw: "Drop into a draw and climb out.",
  valley: "Cross a valley.",
};

/** Step of the leg in the grid as a unit vector, east and north. */
function direction({ grid }: Area, looks: readonly Look[]): readonly [number, number] {
  const [a, b] = [looks[0] as Look, looks.at(-1) as Look];
  const [east, north] = [(b.column - a.column) * grid.eastM, (a.row - b.row) * grid.southM];
  const far = Math.hypot(east, north);
  return [east / far, north / far];
}

const dot = (a: readonly [number, number], b: readonly [number, number]): number => a[0] * b[0] + a[1] * b[1];

/** Crests or troughs that lie across the leg: where the distance to them along the leg passes through naught. */
export function crossed(area: Area, looks: readonly Look[], crest: boolean): LegLandform[] {
  const { grid } = area;
  const leg = direction(area, looks);
  const found: LegLandform[] = [];
  const ahead = (look: Look): number | null => {
    const bend = crest ? look.crest : look.trough;
    const square = bend ? dot(bend.across, leg) : 0;
    return bend && Math.abs(square) > ALONG && Math.abs(bend.offsetM) < FIT_M ? bend.offsetM / square : null;
  };
  for (let i = 1; i < looks.length; i++) {
    const [a, b] = [looks[i - 1] as Look, looks[i] as Look];
    const [before, after] = [ahead(a), ahead(b)];
    if (before === null || after === null || !(before >= 0 && after < 0)) continue;
    const share = before / (before - after);
    const at = (x: number, y: number): number => x + (y - x) * share;
    const bend = bendOf(area.fit.at(at(a.column, b.column), at(a.row, b.row)), crest);
    if (!bend || area.isRound(at(a.column, b.column), at(a.row, b.row), bend)) continue;
    const reliefM = sideRelief(grid, at(a.column, b.column), at(a.row, b.row), bend.across, crest);
    if (reliefM === null) continue;
    const atM = at(a.s, b.s);
    const [fromM, toM] = sidesOf(looks, i, atM, bend, crest);
    const kind = kindOf(crest, bend.axisSlope);
    found.push({ kind, name: null, fromM, toM, atM, way: "across", reliefM, words: ACROSS[kind] });
  }
  return found;
}

/** As far as the ground bends the same way across the line: to the turn of its flanks. */
function sidesOf(
  looks: readonly Look[],
  after: number,
  atM: number,
  { across: [x, y] }: Bend,
  crest: boolean,
): readonly [number, number] {
  const bendsBy = ({ ground: { fxx, fxy, fyy } }: Look): number =>
    (crest ? -1 : 1) * (fxx * x * x + 2 * fxy * x * y + fyy * y * y);
  const side = (start: number, step: 1 | -1): number => {
    let last: Look | null = null;
    for (let i = start; ; i += step) {
      const look = looks[i];
      if (!look) return (last ?? (looks[start - step] as Look)).s;
      if (Math.abs(look.s - atM) > MOST_SIDE_M) return look.s;
      const bend = bendsBy(look);
      if (!(bend > 0)) {
        if (!last) return look.s;
        const held = bendsBy(last);
        return Number.isNaN(bend) ? last.s : last.s + ((look.s - last.s) * held) / (held - bend);
      }
      last = look;
    }
  };
  return [side(after - 1, -1), side(after, 1)];
}

/** Stretches on a crest or in a trough that runs the leg's own way. */
export function followed(area: Area, looks: readonly Look[], crest: boolean): LegLandform[] {
  const leg = direction(area, looks);
  const found: LegLandform[] = [];
  let run: { look: Look; bend: Bend; reliefM: number }[] = [];
  const end = (): void => {
    const [first, middle, last] = [run[0], run[run.length >> 1], run.at(-1)];
    const members = run;
    run = [];
    if (!first || !middle || !last || last.look.s - first.look.s < LEAST_ALONG_M) return;
    const mean = (of: (m: (typeof members)[number]) => number): number =>
      members.reduce((sum, m) => sum + of(m), 0) / members.length;
    const kind = kindOf(
      crest,
      mean((m) => m.bend.axisSlope),
    );
    const rise =
      between(area.grid.heights, area.grid, last.look.column, last.look.row) -
      between(area.grid.heights, area.grid, first.look.column, first.look.row);
    found.push({
      kind,
      name: null,
      fromM: first.look.s,
      toM: last.look.s,
      atM: first.look.s,
      way: "along",
      reliefM: mean((m) => m.reliefM),
      words: `Go ${kind === "spur" || kind === "draw" ? (rise > 0 ? "up" : "down") : "along"} a ${kind}.`,
    });
  };
  for (const look of looks) {
    const bend = crest ? look.crest : look.trough;
    const on = bend && Math.abs(dot(bend.across, leg)) <= 2 * ALONG && Math.abs(bend.offsetM) <= ON_M;
    const reliefM = on ? sideRelief(area.grid, look.column, look.row, bend.across, crest) : null;
    if (on && reliefM !== null && !area.isRound(look.column, look.row, bend))
      run.push({ look, bend, reliefM });
    else end();
  }
  end();
  return found;
}
