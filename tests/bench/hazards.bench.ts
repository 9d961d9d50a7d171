/**
 * Hazards and the escape bearing of legs of about 2 km, on the dense map with terrain and on the sample map: warm, the
 * ground read and the slopes of the lattice known, each leg a little beside the last as when a point is dragged.
 * "processor": time on the processor, which other work on the machine does not lengthen.
 * "first": the slopes under the leg are worked out on the way. Percentiles of one run, on one core.
 */
import { readFileSync } from "node:fs";
import { cpus, loadavg } from "node:os";
import { bench, describe } from "vitest";
import { direct, inverse } from "../../core/geodesy/geodesic.ts";
import { legFrame } from "../../core/geodesy/leg-frame.ts";
import { DEFAULT_ESCAPE_REACH_M, escapeOf, escapeSearchBox } from "../../core/legs/aids/escape.ts";
import { ESCAPE_AREA_KINDS, ESCAPE_LINE_KINDS } from "../../core/legs/aids/escape-lines.ts";
import { frameAreas } from "../../core/legs/aids/framed-area.ts";
import { frameLines } from "../../core/legs/aids/framed-line.ts";
import { DEFAULT_STEEP_DEG } from "../../core/legs/aids/hazards-kinds.ts";
import { hazardsOf } from "../../core/legs/aids/hazards.ts";
import { HAZARD_AREA_KINDS, HAZARD_LINE_KINDS } from "../../core/legs/aids/hazards-kinds.ts";
import { DEFAULT_LEG_SETTINGS } from "../../core/legs/leg-settings.ts";
import { legSearchBox } from "../../core/legs/search-box.ts";
import { bytesSource } from "../../core/map/source.ts";
import { type Ground, openGround, prepareGround } from "../../core/terrain/ground.ts";
import { trueBearing } from "../../core/units/angle.ts";
import type { LonLat } from "../../core/units/position.ts";
import { denseGround } from "./support/dense-map.ts";

const settings = {
  ...DEFAULT_LEG_SETTINGS,
  hazardBeyondM: 500,
  steepDeg: DEFAULT_STEEP_DEG,
  escapeReachM: DEFAULT_ESCAPE_REACH_M,
};
const POSITIONS = 200;
const LENGTH_M = 2000;

const sample = (name: string): Uint8Array =>
  new Uint8Array(readFileSync(new URL(`../../sample-maps/${name}`, import.meta.url)));
const uldermoor = await openGround(
  bytesSource("uldermoor.pmtiles", sample("uldermoor.pmtiles")),
  bytesSource("uldermoor.terrain.pmtiles", sample("uldermoor.terrain.pmtiles")),
);
const [west, south, east, north] = uldermoor.map.info.bounds;
const GROUNDS: readonly { title: string; ground: Ground; from: LonLat }[] = [
  { title: "dense map", ground: await denseGround(), from: [20.44, -34.04] },
  {
    title: "sample map",
    ground: uldermoor,
    from: [west + 0.4 * (east - west), south + 0.35 * (north - south)],
  },
];

/** Legs turning about their start, two degrees at a time, and moving a metre on. */
const legAt = (from: LonLat, i: number): readonly [LonLat, LonLat] => {
  const start = direct(from, trueBearing(90), i);
  return [start, direct(start, trueBearing((i * 1.8) % 360), LENGTH_M)];
};

function hazards(ground: Ground, from: LonLat, to: LonLat): number {
  const frame = legFrame(from, to);
  const box = legSearchBox(from, to, settings);
  const { map, elevation } = ground;
  return hazardsOf(
    frame,
    {
      lines: frameLines(frame, map.lines(box, HAZARD_LINE_KINDS)),
      areas: frameAreas(frame, map.areas(box, HAZARD_AREA_KINDS)),
      elevation,
      roles: map.info.roles,
    },
    settings,
  ).hazards.length;
}

function escapes(ground: Ground, from: LonLat, to: LonLat): number {
  const frame = legFrame(from, to);
  const box = escapeSearchBox(from, to, settings);
  const { map, elevation } = ground;
  const { escape } = escapeOf(
    frame,
    {
      lines: frameLines(frame, map.lines(box, ESCAPE_LINE_KINDS)),
      areas: frameAreas(frame, map.areas(box, ESCAPE_AREA_KINDS)),
      elevation,
      roles: map.info.roles,
    },
    settings,
  );
  return escape ? 1 : 0;
}

function spread(times: readonly number[]): string {
  const sorted = times.toSorted((a, b) => a - b);
  const at = (share: number): string =>
    (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN).toFixed(2);
  return `p50 ${at(0.5)}  p95 ${at(0.95)}  max ${at(1)} ms`;
}

console.log(
  `${cpus()[0]?.model ?? "?"} × ${cpus().length}, Node ${process.version}, load ${loadavg()[0]?.toFixed(1)}`,
);
for (const { title, ground, from } of GROUNDS) {
  await prepareGround(ground, escapeSearchBox(from, from, { escapeReachM: 6000 }));
  for (const [what, work] of [
    ["hazards", hazards],
    ["escape", escapes],
  ] as const)
    for (const pass of ["first", "warm"]) {
      const times: number[] = [];
      const cpu: number[] = [];
      let found = 0;
      for (let i = 0; i < POSITIONS; i++) {
        const [a, b] = legAt(from, i);
        const busy = process.cpuUsage();
        const start = performance.now();
        found += work(ground, a, b);
        times.push(performance.now() - start);
        const { user, system } = process.cpuUsage(busy);
        cpu.push((user + system) / 1000);
      }
      console.log(
        `${title}, ${what}, ${pass}: ${spread(times)} (processor ${spread(cpu)}); ${(found / POSITIONS).toFixed(1)} a leg of ${Math.round(inverse(...legAt(from, 0)).distanceM)} m`,
      );
    }
}

describe("one leg of 2 km, warm", () => {
  for (const { title, ground, from } of GROUNDS) {
    let i = 0;
    bench(`hazards, ${title}`, () => void hazards(ground, ...legAt(from, i++ % POSITIONS)), { time: 500 });
    bench(`escape, ${title}`, () => void escapes(ground, ...legAt(from, i++ % POSITIONS)), { time: 500 });
  }
});
