/**
 * On the demo map: whether the places told are where one stands. Truths are drawn along the map's own lines, read by reference
 * readers; bearings and counts from them by GeographicLib, with errors of the size the program takes them to have; and what the
 * chance of a place should be is summed metre by metre over those lines.
 */
import { beforeAll, describe, expect, it } from "vitest";
import { backOnTrack, backOnTrackBox } from "../../../core/fix/back-on-track.ts";
import { type ReckoningSettings, USUAL_RECKONING } from "../../../core/fix/dead-reckoning.ts";
import { fixOnLine } from "../../../core/fix/on-line.ts";
import type { LikelyPlace } from "../../../core/fix/places-along.ts";
import { usualFixSettings } from "../../../core/fix/sighting.ts";
import type { Kind } from "../../../core/map/kinds.ts";
import type { Ground } from "../../../core/terrain/ground.ts";
import { growBbox } from "../../../core/units/position.ts";
import { sampleGround } from "../sheet/map/sample-sheet.ts";
import { evenFrom, normalFrom } from "./support/chance.ts";
import {
  direct,
  inverse,
  offLine,
  planeAround,
  type RawLines,
  rawLines,
  type Xy,
} from "./support/raw-lines.ts";

const KINDS: readonly Kind[] = ["path", "stream", "wall"];
const DEG = Math.PI / 180;
const SETTINGS = usualFixSettings("2027-05-16");

/** One standard deviation of a share is at most 6 points. */
const TRIALS = 80;

let ground: Ground;
let raw: RawLines;
beforeAll(async () => {
  ground = await sampleGround();
  raw = await rawLines(new URL("../../../sample-maps/uldermoor.pmtiles", import.meta.url), KINDS);
});

/** How often things held, and what the program itself said of how often they should. */
interface Tally {
  trials: number;
  listed: number;
  first: number;
  saidFirst: number;
  onStretch: number;
  /** Greatest difference between a first place's chance and the sum over raw lines. */
  worst: number;
}
const emptyTally = (): Tally => ({ trials: 0, listed: 0, first: 0, saidFirst: 0, onStretch: 0, worst: 0 });

/** Rounding of tiles and the step of the samples, metres. */
const NEAR_M = 3;
const off = (at: Xy, { stretches }: LikelyPlace): number =>
  Math.min(...stretches.map((stretch) => offLine(at, stretch)));

function count(
  tally: Tally,
  truth: Xy,
  places: readonly LikelyPlace[],
  weights: readonly (readonly [Xy, number])[],
): void {
  tally.trials++;
  const [best] = places;
  if (!best) return;
  tally.saidFirst += best.probability;
  // The place meant is the one whose stretch is nearest; a stretch of 95 % leaves a little of it beyond its ends.
  const nearest = places.reduce((a, b) => (off(truth, b) < off(truth, a) ? b : a));
  if (off(truth, nearest) <= NEAR_M) tally.onStretch++;
  if (off(truth, nearest) <= NEAR_M + 2 * nearest.alongSdM) {
    tally.listed++;
    if (nearest === best) tally.first++;
  }
  const all = weights.reduce((sum, [, weight]) => sum + weight, 0);
  const there = weights.reduce((sum, [at, weight]) => (off(at, best) <= NEAR_M ? sum + weight : sum), 0);
  tally.worst = Math.max(tally.worst, Math.abs(there / all - 0.95 * best.probability));
}

const pick = <T>(from: readonly T[], even: () => number): T => from[Math.floor(even() * from.length)]!;
/** Cells of some ten metres. */
const CELL_DEG = 1e-4;
const cellOf = ([lon, lat]: Xy, x = 0, y = 0): string =>
  `${Math.round(lon / CELL_DEG) + x} ${Math.round(lat / CELL_DEG) + y}`;

/** The cells that lines run through, and those beside them. */
function cellsAlong(lines: readonly Float64Array[]): ReadonlySet<string> {
  const cells = new Set<string>();
  for (const coords of lines)
    for (let i = 0; i + 3 < coords.length; i += 2) {
      const [ax, ay, bx, by] = coords.slice(i, i + 4) as unknown as [number, number, number, number];
      const steps = Math.ceil(Math.max(Math.abs(bx - ax), Math.abs(by - ay)) / CELL_DEG) + 1;
      for (let k = 0; k <= steps; k++)
        for (const x of [-1, 0, 1])
          for (const y of [-1, 0, 1])
            cells.add(cellOf([ax + ((bx - ax) * k) / steps, ay + ((by - ay) * k) / steps], x, y));
    }
  return cells;
}

const inside = ([lon, lat]: Xy): boolean => lon > -133.27 && lon < -133.14 && lat > 46.318 && lat < 46.382;

describe.each(KINDS)("at a %s", (kind) => {
  it(
    "back on track: the true place is in the list, most often first, as often as said",
    { timeout: 120_000 },
    async () => {
      const [even, normal] = [evenFrom(71), normalFrom(72)];
      const lines = raw.of.get(kind)!;
      const settings: ReckoningSettings = { ...SETTINGS, spread: USUAL_RECKONING, pacesPer100m: 65 };
      const { settingDeg, hopDeg, hopM } = USUAL_RECKONING.steering;
      const tally = emptyTally();
      while (tally.trials < TRIALS) {
        const truth = pick(lines, even);
        const start = direct(truth, 360 * even(), 300 + 700 * even());
        if (!inside(truth) || !inside(start)) continue;
        const { farM, deg } = inverse(start, truth);
        // Errors as the program states them: bearing kept by hops, the count's two parts, 5 m of the map's line either way.
        const sideDeg = Math.hypot(settingDeg, hopDeg / Math.sqrt(farM / hopM), 5 / farM / DEG);
        const share = Math.hypot(0.03, 0.04, 5 / farM);
        const walkedDeg = (deg + sideDeg * normal() + 360) % 360;
        const countedM = farM * (1 + share * normal());
        const walked = {
          from: start,
          orUpTo: null,
          legs: [{ deg: walkedDeg, north: "true", length: { metres: countedM } } as const],
        };
        const box = backOnTrackBox(walked, settings);
        await Promise.all([ground.map.prepare(box), ground.elevation?.prepare(box)]);
        const stood = { kinds: new Set([kind]), clues: [], next: null };
        const { places } = backOnTrack(walked, stood, ground, settings);
        const end = direct(start, walkedDeg, countedM);
        const plane = planeAround(end);
        const [sdAlong, sdSide] = [
          Math.hypot(0.05 * countedM, 5),
          Math.hypot(countedM * DEG * Math.hypot(settingDeg, hopDeg / Math.sqrt(countedM / hopM)), 5),
        ];
        const weights = lines.flatMap((at): [Xy, number][] => {
          const [e, n] = plane(at);
          const [s, c] = [Math.sin(walkedDeg * DEG), Math.cos(walkedDeg * DEG)];
          const squared = ((e * s + n * c) / sdAlong) ** 2 + ((e * c - n * s) / sdSide) ** 2;
          return squared > 25 ? [] : [[at, Math.exp(-squared / 2)]];
        });
        count(tally, truth, places, weights);
      }
      report(`back on track, ${kind}`, tally);
    },
  );

  it(
    "on the line: the true place is in the list, most often first, as often as said",
    { timeout: 120_000 },
    async () => {
      const [even, normal] = [evenFrom(81), normalFrom(82)];
      const lines = raw.of.get(kind)!;
      const tally = emptyTally();
      while (tally.trials < TRIALS) {
        const truth = pick(lines, even);
        const known = pick(raw.peaks, even);
        const { farM, deg } = inverse(truth, known);
        if (!inside(truth) || farM < 300 || farM > 4000) continue;
        // Lines within half a kilometre of about where one stands.
        const about = direct(truth, 360 * even(), 200 * even());
        const box = growBbox([about[0], about[1], about[0], about[1]], 500);
        await Promise.all([ground.map.prepare(box), ground.elevation?.prepare(box)]);
        const given = ground.map.lines(box, new Set([kind]));
        const bearing = (deg + 2 * normal() + 360) % 360;
        const sighting = { known, name: null, deg: bearing, north: "true" } as const;
        const { places } = fixOnLine(given, [{ what: "sight", sighting }], null, SETTINGS);
        // The lines given reach beyond the box: raw ones are taken where a given one runs.
        const runs = cellsAlong(given.map(({ coords }) => coords));
        const weights = lines
          .filter((at) => runs.has(cellOf(at)))
          .flatMap((at): [Xy, number][] => {
            const turn = ((inverse(at, known).deg - bearing + 540) % 360) - 180;
            return Math.abs(turn) > 10 ? [] : [[at, Math.exp(-((turn / 2) ** 2) / 2)]];
          });
        count(tally, truth, places, weights);
      }
      report(`on the line, ${kind}`, tally);
    },
  );
});

function report(what: string, { trials, listed, first, saidFirst, onStretch, worst }: Tally): void {
  const share = (n: number): number => n / trials;
  if (process.env.LEGWRIGHT_FIGURES)
    console.log(what, {
      listed: share(listed),
      first: share(first),
      said: share(saidFirst),
      onStretch: share(onStretch),
      worst,
    });
  // In the list nearly always: 1 in 20 lies outside a stretch of 95 %, and 1 in 300 beyond its ends by two more spreads.
  expect(share(listed), "in the list").toBeGreaterThan(0.96);
  expect(share(first), "first").toBeGreaterThan(0.5);
  // Three standard deviations of 80 trials.
  expect(Math.abs(share(first) - share(saidFirst)), "first, as often as said").toBeLessThan(0.17);
  expect(share(onStretch), "on a stretch of 95 %").toBeGreaterThan(0.89);
  // A stretch of some 30 m and the 3 m either way it is told to: up to a tenth of its chance.
  expect(worst, "the chance of the first place, against the sum over the raw lines").toBeLessThan(0.08);
}
