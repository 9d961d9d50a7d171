/** What each aid does to the odds, on ground so plain that the share can be worked out by hand. Spreads as in closed-forms.test.ts. */
import { describe, expect, test } from "vitest";
import type { OddsAids, OddsLine } from "../../../../core/legs/odds/scene.ts";
import { type OddsRun, simulate } from "../../../../core/legs/odds/simulate.ts";
import { USUAL_SPREAD } from "../../../../core/legs/odds/spread.ts";
import { FOUND, STOPPED } from "../../../../core/legs/odds/walkers.ts";
import { below, between, density, integral, withinRadius } from "./support/normal.ts";

const HELD_TO = 0.005;
const LENGTH_M = 1000;
const FAR = 400;
const degrees = (share: number): number => (share * 180) / Math.PI;

/** So many metres to the side and along at the end of the whole leg, all of it from the setting of the compass. */
const spread = (acrossM: number, alongM: number, sightM: number) => ({
  ...USUAL_SPREAD,
  steering: { settingDeg: degrees(acrossM / LENGTH_M), hopDeg: 0, hopM: 50 },
  paceError: alongM / LENGTH_M,
  sightM,
});
const across = (s: number, surely = 1, key = 1): OddsLine => ({ st: [s, -FAR, s, FAR], surely, key });
const run = (aids: OddsAids, over: ReturnType<typeof spread>, seed = 3): OddsRun =>
  simulate({ lengthM: LENGTH_M }, aids, over, { seed });
const near = (share: number, expected: number): void =>
  expect(Math.abs(share - expected), `${share} should be ${expected}`).toBeLessThan(HELD_TO);

describe("a stop beyond the target", () => {
  const over = spread(6, 4, 5);
  // Those too short see the target on going on, if they pass near enough: all that lie across under the sight distance and not beyond it.
  const foundOnTheWay = integral((t) => (density(t / 6) / 6) * below(Math.sqrt(25 - t * t) / 4), -5, 5);

  test("lets nobody by who notices it", () => {
    const { find, stopped, missed } = run({ stop: [across(1050)] }, over);
    near(find, foundOnTheWay);
    near(stopped, 1 - foundOnTheWay);
    expect(missed).toBe(0);
  });

  test("lets by those who overlook it", () => {
    const { find, stopped, missed } = run({ stop: [across(1050, 0.8)] }, over);
    near(find, foundOnTheWay);
    // A count of 10,000 draws with this chance has a standard deviation of 0.3 points.
    expect(Math.abs(stopped - 0.8 * (1 - foundOnTheWay))).toBeLessThan(0.012);
    expect(find + stopped + missed).toBeCloseTo(1, 12);
  });

  test("stops on one side only where it lies on one side only", () => {
    const { ends, outcome, stopped } = run({ stop: [{ st: [1050, 0, 1050, FAR], surely: 1, key: 1 }] }, over);
    near(stopped, (1 - foundOnTheWay) / 2);
    for (let i = 0; i < outcome.length; i++)
      if (outcome[i] === STOPPED) {
        expect(ends[2 * i]).toBeCloseTo(1050, 3);
        expect(ends[2 * i + 1]).toBeGreaterThanOrEqual(0);
      }
  });

  test("is not walked to further than walkers go on", () => {
    expect(run({ stop: [across(1600)] }, over).stopped).toBe(0);
    expect(run({ stop: [across(1450)] }, over).stopped).toBeGreaterThan(0.1);
  });

  test("nearer than half the way is not taken for it", () => {
    expect(run({ stop: [across(450)] }, over)).toMatchObject({ stopped: 0 });
  });

  test("met before the count is out stops those it brings to, who would have walked past", () => {
    // At the target's own distance: who is there within sight finds it, and who counted it out in sight.
    const { find, stopped, missed } = run({ stop: [across(1000)] }, over);
    expect(missed).toBe(0);
    expect(find).toBeGreaterThan(withinRadius(5, 4, 6));
    // Nobody more than the sight distance aside finds it.
    expect(find).toBeLessThanOrEqual(between(-5, 5, 6) + HELD_TO);
    near(find + stopped, 1);
  });
});

describe("a line counted from", () => {
  const over = spread(0, 20, 10);
  test.for([250, 500, 900])("at %s m leaves the error of the rest of the way", (at) => {
    near(run({ collecting: [across(at)] }, over).find, between(-10, 10, 20 * (1 - at / LENGTH_M)));
  });

  test("is of use to those who notice it", () => {
    const { find } = run({ collecting: [across(800, 0.6)] }, over);
    expect(Math.abs(find - (0.6 * between(-10, 10, 4) + 0.4 * between(-10, 10, 20)))).toBeLessThan(0.012);
  });

  test("one after the other, the last decides", () => {
    near(run({ collecting: [across(300, 1, 1), across(900, 1, 2)] }, over).find, between(-10, 10, 2));
  });

  test("met aslant is not trusted more than the count", () => {
    // At 10° a walker 50 m aside meets it 280 m early or late; the count is good to 20.
    const slanting: OddsLine = { st: [500 - 567, -100, 500 + 567, 100], surely: 1, key: 1 };
    const strayed = spread(50, 20, 10);
    expect(run({ collecting: [slanting] }, strayed).find).toBe(run({}, strayed).find);
  });

  test("crossed twice does not tell which time it was", () => {
    const bent: OddsLine = { st: [300, -FAR, 300, 200, 700, 200, 700, -FAR], surely: 1, key: 1 };
    expect(run({ collecting: [bent] }, over).find).toBe(run({}, over).find);
  });
});

describe("a handrail", () => {
  const over = spread(20, 0, 10);
  const along = (from: number, to: number, t: number, surely = 1) => ({
    stretches: [[from, t, to, t]],
    surely,
    key: 1,
  });

  test.for([400, 600, 800])("to %s m leaves the drift of the rest of the way", (to) => {
    near(run({ rails: [along(0, to, 0)] }, over).find, between(-10, 10, 20 * (1 - to / LENGTH_M)));
  });

  test("is of use to those who notice it", () => {
    const { find } = run({ rails: [along(0, 800, 0, 0.7)] }, over);
    expect(Math.abs(find - (0.7 * between(-10, 10, 4) + 0.3 * between(-10, 10, 20)))).toBeLessThan(0.012);
  });

  test("beside the leg is left on a bearing to the target", () => {
    // From 800, 40 it is 204 m; the spread lies across that bearing, which is 11° off the leg's.
    near(
      run({ rails: [along(0, 800, 40)] }, over).find,
      between(-10, 10, (20 * Math.hypot(200, 40)) / LENGTH_M),
    );
  });

  test("out of reach is not followed", () => {
    const rails = [along(0, 800, 200)];
    expect(run({ rails }, over).find).toBe(run({}, over).find);
  });

  test("to the target brings everyone there whatever the count", () => {
    expect(run({ rails: [along(300, 1000, 5)] }, spread(20, 50, 10)).find).toBe(1);
  });

  test("that leads further is changed to", () => {
    const both = [along(0, 500, 0), { ...along(300, 900, 10), key: 2 }];
    near(run({ rails: both }, over).find, between(-10, 10, (20 * Math.hypot(100, 10)) / LENGTH_M));
  });
});

describe("aiming off", () => {
  const over = spread(20, 0, 10);
  const aimOff = (side: "left" | "right", offsetDeg: number, followM: number) => ({
    line: [across(1000)],
    side,
    offsetDeg,
    followM,
  });

  test.for(["left", "right"] as const)(
    "to the %s finds the target along the line, or no further than one follows it",
    (side) => {
      for (const [offsetDeg, followM] of [
        [1, 100],
        [2, 50],
        [3, 60],
        [3, 20],
      ] as const) {
        const { find, stopped } = run({ aimOff: aimOff(side, offsetDeg, followM) }, over);
        // Where a bearing off by this many radians meets the line: 1000 tan. Found from 10 m past to the way followed, plus the sight.
        const off = (offsetDeg * Math.PI) / 180;
        const [low, high] = [-Math.atan(10 / 1000), Math.atan((followM + 10) / 1000)].map(
          (angle) => angle - off,
        );
        const share = between(low as number, high as number, 20 / 1000);
        near(find, share);
        near(stopped, 1 - share);
      }
    },
  );

  test("turning on the line leads the right way whichever way the line is drawn", () => {
    const drawn = run({ aimOff: aimOff("left", 3, 120) }, over).find;
    const back = { ...aimOff("left", 3, 120), line: [{ st: [1000, FAR, 1000, -FAR], surely: 1, key: 1 }] };
    near(run({ aimOff: back }, over).find, drawn);
  });

  test("found walkers stand in sight of the target", () => {
    const { ends, outcome } = run({ aimOff: aimOff("right", 3, 120) }, over);
    for (let i = 0; i < outcome.length; i++)
      if (outcome[i] === FOUND)
        expect(Math.hypot((ends[2 * i] as number) - 1000, ends[2 * i + 1] as number)).toBeLessThan(10.01);
  });
});

describe("by way of an attack point", () => {
  const over = spread(20, 0, 10);

  test("both parts have to be found", () => {
    const via = { s: 800, t: 150, sightM: 25 };
    const { find, ends, outcome } = run({ via }, over);
    const [first, second] = [Math.hypot(800, 150), Math.hypot(200, 150)];
    const share = between(-25, 25, (20 * first) / LENGTH_M) * between(-10, 10, (20 * second) / LENGTH_M);
    expect(Math.abs(find - share)).toBeLessThan(HELD_TO);
    for (let i = 0; i < outcome.length; i++)
      if (outcome[i] === FOUND)
        expect(Math.hypot((ends[2 * i] as number) - 1000, ends[2 * i + 1] as number)).toBeLessThan(10.01);
  });

  test("who is stopped behind it could start anew", () => {
    const via = { s: 800, t: 0, sightM: 5, stop: [across(850)] };
    const { find, stopped, missed } = run({ via }, over);
    const first = between(-5, 5, 16);
    near(stopped, 1 - first);
    near(find, first * between(-10, 10, 4));
    near(missed, first * (1 - between(-10, 10, 4)));
  });
});
