/**
 * Courses on a map made from real data (tests/fixtures/course), every rule checked by code that shares nothing with what sets
 * them. By hand: `LEGWRIGHT_SEEDS=1000`, `LEGWRIGHT_FROM=301` to go on from there, `LEGWRIGHT_MAP` for another map's path
 * without ".pmtiles", `LEGWRIGHT_TIMES=1` to see the processor time of each.
 */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect, test } from "vitest";
import { COURSE_KINDS, COURSE_LEVELS, LEVEL_RULES } from "../../../../core/course/course.ts";
import { makeCourse } from "../../../../core/course/make-course.ts";
import { Fault } from "../../../../core/fault.ts";
import { DEFAULT_ADVICE_SETTINGS } from "../../../../core/legs/advice/advice-settings.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../../core/legs/leg-settings.ts";
import { openGround } from "../../../../core/terrain/ground.ts";
import { brokenRules } from "../course-checks.ts";
import { RawMap, type Xy } from "../raw-map.ts";

const {
  LEGWRIGHT_SEEDS: seeds,
  LEGWRIGHT_FROM: from,
  LEGWRIGHT_MAP: map,
  LEGWRIGHT_TIMES: times,
} = process.env;
const BASE = map ?? resolve(import.meta.dirname, "../../../fixtures/course/swellendam");
const SEEDS = Number(seeds ?? 24);
const FROM = Number(from ?? 1);
const SETTINGS = { legs: { ...DEFAULT_LEG_SETTINGS, date: "2026-06-01" }, advice: DEFAULT_ADVICE_SETTINGS };

/** Processor time, not the clock: other work on the machine says nothing of how long a course takes. */
const cpuMs = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

const source = (path: string) => {
  const bytes = readFileSync(path);
  return {
    key: path,
    sizeBytes: bytes.length,
    read: async (at: number, length: number) => new Uint8Array(bytes.subarray(at, at + length)),
  };
};

test(`seeds ${FROM} to ${FROM + SEEDS - 1} keep every rule, or say which cannot be met`, async () => {
  const ground = await openGround(source(`${BASE}.pmtiles`), source(`${BASE}.terrain.pmtiles`));
  const raw = await RawMap.open(BASE);
  const [west, south, east, north] = raw.bounds;
  const broken: string[] = [];
  const tookMs: number[] = [];
  let set = 0;
  for (let seed = FROM; seed < FROM + SEEDS; seed++) {
    const wish = {
      ...LEVEL_RULES[COURSE_LEVELS[seed % 3] as (typeof COURSE_LEVELS)[number]],
      kind: COURSE_KINDS[Math.floor(seed / 3) % 4] as (typeof COURSE_KINDS)[number],
      // Spread over the middle of the map, by the golden ratio and its like.
      start: [
        west + (0.2 + 0.6 * ((seed * 0.6180339887) % 1)) * (east - west),
        south + (0.2 + 0.6 * ((seed * 0.7548776662) % 1)) * (north - south),
      ] as const,
      points: 3 + (seed % 4),
      seed,
    };
    const began = cpuMs();
    try {
      const { points, legs } = await makeCourse(wish, ground, SETTINGS);
      tookMs.push(cpuMs() - began);
      set++;
      for (const { odds } of legs)
        if (wish.oddsAtLeast !== null) expect(odds?.find ?? 0).toBeGreaterThanOrEqual(wish.oddsAtLeast);
      const checked = brokenRules(
        {
          ...wish,
          points: points.map(({ lonLat }): Xy => [lonLat[0], lonLat[1]]),
          legs: legs.map((leg) => [leg.from, leg.to] as const),
          stops: legs.map(({ figures }) => figures.backstop?.kind ?? null),
        },
        raw,
      );
      broken.push(...checked.map((what) => `seed ${seed} (${wish.kind}): ${what}`));
    } catch (thrown) {
      tookMs.push(cpuMs() - began);
      const fault = Fault.from(thrown);
      expect(fault.code, `${seed}: ${fault.message}`).toBe("no-course");
      expect(fault.what).toMatch(/this one stood in the way most: .+\.$/);
    }
  }
  if (times !== undefined) {
    tookMs.sort((a, b) => a - b);
    const at = (share: number): string => (tookMs[Math.floor(share * (tookMs.length - 1))] ?? NaN).toFixed(0);
    console.log(
      `${set} of ${SEEDS} set; ms: p50 ${at(0.5)}, p95 ${at(0.95)}, p99 ${at(0.99)}, most ${at(1)}`,
    );
  }
  expect(broken).toEqual([]);
  // A town, a plain with few lines and steep mountains: many starts give nothing at the easy level.
  expect(set).toBeGreaterThan(0.3 * SEEDS);
}, 3_600_000);
