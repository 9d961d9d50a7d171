/** Everything worked out about random legs, timed part by part. */
import { direct } from "../../../core/geodesy/geodesic.ts";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { backstopOf } from "../../../core/legs/aids/backstop.ts";
import { frameLines } from "../../../core/legs/aids/framed-line.ts";
import { groundBackstops } from "../../../core/legs/aids/ground-backstop.ts";
import { handrailsOf } from "../../../core/legs/aids/handrails.ts";
import { crossingList } from "../../../core/legs/crossing-list.ts";
import { legFigures } from "../../../core/legs/leg-figures.ts";
import { DEFAULT_LEG_SETTINGS, type LegSettings } from "../../../core/legs/leg-settings.ts";
import { LEG_LINE_KINDS } from "../../../core/legs/line-kinds.ts";
import { legSearchBox } from "../../../core/legs/search-box.ts";
import { climbOf } from "../../../core/terrain/climb.ts";
import { type Ground, prepareGround } from "../../../core/terrain/ground.ts";
import { LANDFORM_REACH_M } from "../../../core/terrain/landforms/landform.ts";
import { landformsAlong } from "../../../core/terrain/landforms/landforms-along.ts";
import { profileOf } from "../../../core/terrain/leg-profile.ts";
import { sightAlong } from "../../../core/terrain/line-of-sight.ts";
import { trueBearing } from "../../../core/units/angle.ts";
import { type Bbox, bboxOf, growBbox, type LonLat } from "../../../core/units/position.ts";

export interface BenchLeg {
  readonly from: LonLat;
  readonly to: LonLat;
}

const settings: LegSettings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };

/** The same on every machine: a linear congruential generator (Numerical Recipes' "quick and dirty" one). */
function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => (state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0) / 2 ** 32;
}

/** Legs of one length in random directions, both ends within a box. */
export function randomLegs(box: Bbox, count: number, lengthM: number, seed: number): BenchLeg[] {
  const random = seeded(seed);
  const legs: BenchLeg[] = [];
  for (let tries = 0; legs.length < count && tries < count * 1000; tries++) {
    const from: LonLat = [box[0] + (box[2] - box[0]) * random(), box[1] + (box[3] - box[1]) * random()];
    const to = direct(from, trueBearing(360 * random()), lengthM);
    if (to[0] > box[0] && to[0] < box[2] && to[1] > box[1] && to[1] < box[3]) legs.push({ from, to });
  }
  return legs;
}

/** What the leg's figures and its landforms look at. */
export function wholeBox({ from, to }: BenchLeg): Bbox {
  const figures = legSearchBox(from, to, settings);
  const forms = growBbox(bboxOf([from, to]) as Bbox, LANDFORM_REACH_M);
  return [
    Math.min(figures[0], forms[0]),
    Math.min(figures[1], forms[1]),
    Math.max(figures[2], forms[2]),
    Math.max(figures[3], forms[3]),
  ];
}

/** Milliseconds of each part of one leg by the wall clock; "processor": what all of it took on the processor. */
export type Timing = Record<string, number>;

/** The leg as the program works it out: reading what it needs, then all its figures. */
export async function timeWhole(ground: Ground, { from, to }: BenchLeg): Promise<Timing> {
  const busy = process.cpuUsage();
  const start = performance.now();
  await prepareGround(ground, wholeBox({ from, to }));
  const read = performance.now();
  legFigures({ n: 1, from: { label: "A", lonLat: from }, to: { label: "B", lonLat: to } }, ground, settings);
  const end = performance.now();
  const { user, system } = process.cpuUsage(busy);
  return { all: end - start, processor: (user + system) / 1000, reading: read - start, figures: end - read };
}

/** The same leg's parts one after the other, each asked for by itself. */
export async function timeParts(ground: Ground, { from, to }: BenchLeg): Promise<Timing> {
  const timing: Timing = {};
  let last = performance.now();
  const mark = (part: string): void => {
    const now = performance.now();
    timing[part] = now - last;
    last = now;
  };
  const box = wholeBox({ from, to });
  await ground.map.prepare(box);
  mark("reading map");
  await ground.elevation?.prepare(box);
  mark("reading terrain");
  const frame = legFrame(from, to);
  const profile = profileOf(ground, frame);
  mark("profile");
  climbOf(profile, 1);
  mark("climb");
  const lines = ground.map.lines(legSearchBox(from, to, settings), LEG_LINE_KINDS);
  mark("lines");
  const framed = frameLines(frame, lines);
  mark("framing");
  crossingList(frame, lines, profile, () => 0);
  mark("crossings");
  handrailsOf(frame, framed, settings);
  mark("handrails");
  backstopOf(frame, framed, settings, () =>
    ground.elevation ? groundBackstops(frame, ground.elevation, settings) : [],
  );
  mark("backstop");
  landformsAlong(ground, frame);
  mark("landforms");
  sightAlong(profile);
  mark("sight");
  return timing;
}

/** Percentiles of each part over many legs, a line each. */
export function spreadOf(timings: readonly Timing[]): string[] {
  return Object.keys(timings[0] ?? {}).map((part) => {
    const sorted = timings.map((t) => t[part] ?? Number.NaN).sort((a, b) => a - b);
    const at = (share: number): string =>
      (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN)
        .toFixed(2)
        .padStart(7);
    return `${part.padEnd(16)} p50 ${at(0.5)}  p95 ${at(0.95)}  max ${at(1)} ms`;
  });
}
