/**
 * The aids of a leg of 2 km on the dense map, warm, part by part, and the same searches for handrail, backstop and hazards
 * written plainly with turf over all features of the map, side by side in one run.
 * "all": what a person waits for on moving a point: lines asked for and framed, handrails, backstop, attack points, aiming
 * off, hazards, steering marks, marks to tick off; landforms and the profile, which the aids take as given, stand before.
 * Escape and the way along lines come later, with the advice. "processor": time on the processor, which other work on the
 * machine does not lengthen. Aim: 95 of 100 legs under 12 ms, and a hundredth of turf's time.
 */
import { cpus, loadavg } from "node:os";
import { bench, describe } from "vitest";
import { inverse } from "../../core/geodesy/geodesic.ts";
import { type LegFrame, legFrame } from "../../core/geodesy/leg-frame.ts";
import { oddsSettingsOf, planOf } from "../../core/legs/advice/leg-plan.ts";
import { adviceBox, escapeGround } from "../../core/legs/advice/leg-advice.ts";
import { DEFAULT_ADVICE_SETTINGS } from "../../core/legs/advice/advice-settings.ts";
import { aimOffOf } from "../../core/legs/aids/aim-off.ts";
import { attackBox, attackPointsOf, landformsBox } from "../../core/legs/aids/attack-points.ts";
import { backstopOf } from "../../core/legs/aids/backstop.ts";
import { escapeOf } from "../../core/legs/aids/escape.ts";
import { frameAreas } from "../../core/legs/aids/framed-area.ts";
import { frameLines } from "../../core/legs/aids/framed-line.ts";
import { groundBackstops } from "../../core/legs/aids/ground-backstop.ts";
import { handrailRouteOf, routeBox } from "../../core/legs/aids/handrail-route.ts";
import { handrailsOf } from "../../core/legs/aids/handrails.ts";
import { HAZARD_AREA_KINDS } from "../../core/legs/aids/hazards-kinds.ts";
import { hazardsOf } from "../../core/legs/aids/hazards.ts";
import { steeringMarksOf } from "../../core/legs/aids/steering-marks.ts";
import { stretchesWithin } from "../../core/legs/stretches.ts";
import { tickMarksOf } from "../../core/legs/aids/tick-marks.ts";
import { crossingList } from "../../core/legs/crossing-list.ts";
import { legFigures } from "../../core/legs/leg-figures.ts";
import { oddsOf } from "../../core/legs/odds/odds-of.ts";
import { DEFAULT_LEG_SETTINGS } from "../../core/legs/leg-settings.ts";
import { LEG_LINE_KINDS } from "../../core/legs/line-kinds.ts";
import { legLinesBox, legSearchBox } from "../../core/legs/search-box.ts";
import type { Kind } from "../../core/map/kinds.ts";
import { type Ground, prepareGround } from "../../core/terrain/ground.ts";
import { landformsIn } from "../../core/terrain/landforms/landforms-in.ts";
import { landformsAlong } from "../../core/terrain/landforms/landforms-along.ts";
import { profileOf } from "../../core/terrain/leg-profile.ts";
import { unionBbox } from "../../core/units/position.ts";
import { denseBench } from "./support/bench-grounds.ts";
import { type BenchLeg, randomLegs, spreadOf, type Timing } from "./support/leg-timing.ts";
import { plainFeatures, plainSearches } from "./support/plain-turf.ts";

const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };
const LEGS = 200;
const LENGTH_M = 2000;
/** turf takes seconds a leg. */
const TURF_LEGS = 5;

const PLACES: ReadonlySet<Kind> = new Set<Kind>(["peak", "spotHeight", "building"]);
const PLACE_AREAS: ReadonlySet<Kind> = new Set<Kind>(["building", "water"]);
const WOODS: ReadonlySet<Kind> = new Set<Kind>(["wood"]);

/** What the aids take as given. */
function before(ground: Ground, frame: LegFrame) {
  const profile = profileOf(ground, frame);
  const landforms = landformsAlong(ground, frame);
  const lines = ground.map.lines(legLinesBox(frame.from, frame.to, settings), LEG_LINE_KINDS);
  return { profile, landforms, crossings: crossingList(frame, lines, profile, () => 0) };
}

/** All aids of one leg, timed one after the other: wall clock and processor. */
function timeAids(ground: Ground, { from, to }: BenchLeg): { wall: Timing; processor: Timing } {
  const frame = legFrame(from, to);
  const { profile, landforms, crossings } = before(ground, frame);
  const { map, elevation } = ground;
  const heightAt = elevation ? elevation.at.bind(elevation) : null;
  const wall: Timing = { all: 0 };
  const processor: Timing = { all: 0 };
  let last = performance.now();
  let busy = process.cpuUsage();
  const mark = (part: string, isAid = true): void => {
    const [now, used] = [performance.now(), process.cpuUsage(busy)];
    wall[part] = now - last;
    processor[part] = (used.user + used.system) / 1000;
    for (const timing of isAid ? [wall, processor] : [])
      timing["all"] = (timing["all"] as number) + (timing[part] as number);
    busy = process.cpuUsage();
    last = performance.now();
  };
  const box = legLinesBox(from, to, settings);
  const lines = map.lines(unionBbox(box, attackBox(to)), LEG_LINE_KINDS);
  const framed = frameLines(frame, lines);
  mark("lines, framed");
  const handrails = handrailsOf(frame, framed, settings);
  mark("handrails");
  const { backstop } = backstopOf(
    frame,
    framed,
    settings,
    () => (elevation ? groundBackstops(frame, elevation, settings) : []),
    heightAt,
  );
  mark("backstop");
  const target = attackBox(to);
  attackPointsOf(
    {
      frame,
      lines: framed,
      points: map.points(target, PLACES),
      areas: map.areas(target, PLACE_AREAS),
      handrails,
      heightAt,
      landformsAround: elevation && (() => landformsIn(ground, landformsBox(to))),
    },
    settings,
  );
  mark("attack points");
  aimOffOf({ frame, lines: framed, handrails, heightAt }, settings);
  mark("aiming off");
  hazardsOf(
    frame,
    {
      lines: framed,
      areas: frameAreas(frame, map.areas(box, HAZARD_AREA_KINDS)),
      elevation,
      roles: map.info.roles,
    },
    { ...settings, hazardBeyondM: Math.max(settings.hazardBeyondM, backstop?.beyondM ?? 0) },
  );
  mark("hazards");
  steeringMarksOf(frame.lengthM, profile, stretchesWithin(frame, map.areas(box, WOODS)), settings);
  tickMarksOf(crossings, landforms, frame.lengthM, () => 0);
  mark("steering, ticks");
  escapeOf(frame, escapeGround(frame, ground, DEFAULT_ADVICE_SETTINGS), {
    ...settings,
    escapeReachM: DEFAULT_ADVICE_SETTINGS.escapeReachM,
  });
  mark("escape", false);
  handrailRouteOf(
    { frame, lines: frameLines(frame, map.lines(routeBox(frame), LEG_LINE_KINDS)), handrails, heightAt },
    settings,
  );
  mark("way along lines", false);
  return { wall, processor };
}

/** The three searches turf does as well, as the program does them. */
function threeSearches(ground: Ground, { from, to }: BenchLeg): number {
  const frame = legFrame(from, to);
  const { map } = ground;
  const box = legLinesBox(from, to, settings);
  const framed = frameLines(frame, map.lines(box, LEG_LINE_KINDS));
  const areas = frameAreas(frame, map.areas(box, HAZARD_AREA_KINDS));
  // turf knows no heights: steep ground is left out on both sides.
  const { hazards } = hazardsOf(
    frame,
    { lines: framed, areas, elevation: null, roles: map.info.roles },
    settings,
  );
  return (
    handrailsOf(frame, framed, settings).length +
    (backstopOf(frame, framed, settings).backstop ? 1 : 0) +
    hazards.length
  );
}

const { title, box, open } = await denseBench(10);
const ground = await open();
const legs = randomLegs(box, LEGS, LENGTH_M, 7);
const others = randomLegs(box, LEGS, LENGTH_M, 1);
for (const { from, to } of [...legs, ...others]) {
  await prepareGround(ground, legSearchBox(from, to, settings));
  await prepareGround(
    ground,
    adviceBox({ fromLonLat: from, toLonLat: to }, settings, DEFAULT_ADVICE_SETTINGS),
  );
}
console.log(
  `${cpus()[0]?.model ?? "?"} × ${cpus().length}, Node ${process.version}, load ${loadavg()[0]?.toFixed(1)}`,
);
for (const leg of others) timeAids(ground, leg);
const timed = legs.map((leg) => timeAids(ground, leg));
console.log(
  [
    `${title}: ${legs.length} legs of ${LENGTH_M} m, warm`,
    "  wall clock",
    ...spreadOf(timed.map(({ wall }) => wall)),
    "  processor",
    ...spreadOf(timed.map(({ processor }) => processor)),
  ].join("\n    "),
);

const walkers = ({ from, to }: BenchLeg): Timing => {
  const leg = legFigures(
    { n: 1, from: { label: "A", lonLat: from }, to: { label: "B", lonLat: to } },
    ground,
    settings,
  );
  const frame = legFrame(from, to);
  const framed = frameLines(frame, ground.map.lines(legLinesBox(from, to, settings), LEG_LINE_KINDS));
  const start = performance.now();
  const cpu = process.cpuUsage();
  oddsOf(
    frame,
    framed,
    planOf(leg, DEFAULT_ADVICE_SETTINGS),
    oddsSettingsOf(DEFAULT_ADVICE_SETTINGS, settings),
    { walkers: 10_000, seed: 1 },
  );
  const { user, system } = process.cpuUsage(cpu);
  return { "wall clock": performance.now() - start, processor: (user + system) / 1000 };
};
for (const leg of others.slice(0, 60)) walkers(leg);
const odds = legs.slice(0, 100).map(walkers);
console.log(["10,000 walkers on the same legs, as planned", ...spreadOf(odds)].join("\n    "));

const features = plainFeatures(ground, box);
const sideBySide = legs.slice(0, TURF_LEGS).map((leg) => {
  const busy = (work: () => number, times: number): { ms: number; found: number } => {
    const cpu = process.cpuUsage();
    let found = 0;
    for (let i = 0; i < times; i++) found = work();
    const { user, system } = process.cpuUsage(cpu);
    return { ms: (user + system) / 1000 / times, found };
  };
  const own = busy(() => threeSearches(ground, leg), 50);
  const plain = busy(() => plainSearches(features, leg.from, leg.to, settings), 1);
  return { own, plain, lengthM: inverse(leg.from, leg.to).distanceM };
});
for (const { own, plain, lengthM } of sideBySide)
  console.log(
    `${Math.round(lengthM)} m, ${features.length} features: turf ${plain.ms.toFixed(0)} ms (${plain.found} found), here ${own.ms.toFixed(2)} ms (${own.found}): ${(plain.ms / own.ms).toFixed(0)} times as fast, processor time`,
  );

describe("the aids of a leg of 2 km, dense map, warm", () => {
  let i = 0;
  bench("all aids, escape and way along lines", () => void timeAids(ground, legs[i++ % LEGS]!), {
    time: 1000,
  });
  bench("handrails, backstop and hazards", () => void threeSearches(ground, legs[i++ % LEGS]!), {
    time: 1000,
  });
});
