/** The odds of legs on maps drawn for the purpose, each with one right answer any instructor knows: common practice, no source. */
import { describe, expect, test } from "vitest";
import { legFrame } from "../../../../core/geodesy/leg-frame.ts";
import { backstopOf } from "../../../../core/legs/aids/backstop.ts";
import { frameLines } from "../../../../core/legs/aids/framed-line.ts";
import { handrailsOf } from "../../../../core/legs/aids/handrails.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../../core/legs/leg-settings.ts";
import { cloud } from "../../../../core/legs/odds/cloud.ts";
import { type LegPlan, oddsOf } from "../../../../core/legs/odds/odds-of.ts";
import { worthOfAids } from "../../../../core/legs/odds/worth-of-aids.ts";
import type { LineFeature } from "../../../../core/map/features.ts";
import { drawn, place } from "../support/line-map.ts";

const frame = legFrame(place(0, 0), place(0, 1000));
function leg(lines: readonly LineFeature[]) {
  const framed = frameLines(frame, lines);
  const plan: LegPlan = {
    steering: "marks",
    handrails: handrailsOf(frame, framed, DEFAULT_LEG_SETTINGS),
    backstop: backstopOf(frame, framed, DEFAULT_LEG_SETTINGS).backstop,
    aimOff: null,
    attackPoint: null,
  };
  return { framed, plan };
}
const NOTHING = { handrails: [], aimOff: null, attackPoints: [] };

describe("a leg's odds", () => {
  test("a wall behind the target stops those who would walk by", () => {
    const { framed, plan } = leg([
      drawn("road", [
        [-900, 1080],
        [900, 1080],
      ]),
    ]);
    expect(plan.backstop?.kind).toBe("road");
    const odds = oddsOf(frame, framed, plan);
    expect(odds?.missed).toBe(0);
    expect(oddsOf(frame, framed, { ...plan, backstop: null })?.missed).toBeGreaterThan(0.3);
  });

  test("a path to the target brings nearly all there", () => {
    const { framed, plan } = leg([
      drawn("path", [
        [20, 0],
        [25, 500],
        [10, 1000],
      ]),
    ]);
    expect(plan.handrails.map(({ kind }) => kind)).toEqual(["path"]);
    expect(oddsOf(frame, framed, plan)?.find).toBeGreaterThan(0.99);
    const worth = worthOfAids(frame, framed, plan, NOTHING);
    expect(worth?.changes.find(({ change }) => change === "withoutHandrail")?.odds.find).toBeLessThan(0.5);
  });

  test("a target on a stream: aiming off finds it far more often, and comes first", () => {
    const { framed, plan } = leg([
      drawn("stream", [
        [-900, 1000],
        [900, 1000],
      ]),
    ]);
    const aimOff = {
      side: "left" as const,
      offsetDeg: 6,
      line: { kind: "stream" as const, name: null },
      alongM: 220,
    };
    const worth = worthOfAids(frame, framed, plan, { ...NOTHING, aimOff });
    expect(worth?.better[0]?.change).toBe("withAimOff");
    expect(worth?.better[0]?.odds.find).toBeGreaterThan((worth?.run.find ?? 1) + 0.2);
  });

  test("a junction on a wide road just before the target is worth going to first", () => {
    const { framed, plan } = leg([]);
    const attackPoints = [{ lonLat: place(60, 900), sightM: 120 }];
    const worth = worthOfAids(frame, framed, plan, { ...NOTHING, attackPoints });
    expect(worth?.better[0]).toMatchObject({ change: "withAttackPoint", attackPoint: 0 });
  });

  test("walking without marks is never the better change", () => {
    const { framed, plan } = leg([
      drawn("stream", [
        [-900, 700],
        [900, 720],
      ]),
    ]);
    const worth = worthOfAids(frame, framed, plan, NOTHING);
    expect(worth?.changes.map(({ change }) => change)).toEqual(["withoutMarks"]);
    expect(worth?.better).toEqual([]);
    const bare = worthOfAids(frame, framed, { ...plan, steering: "unaided" }, NOTHING);
    expect(bare?.better.map(({ change }) => change)).toEqual(["withMarks"]);
  });

  test("a leg without length has none, with nothing to better", () => {
    const nowhere = legFrame(place(0, 0), place(0, 0));
    const { plan } = leg([]);
    expect(oddsOf(nowhere, [], plan)).toBeNull();
    expect(worthOfAids(nowhere, [], plan, NOTHING)).toBeNull();
  });
});

test("the cloud is a fair sample of the walkers, on the map", () => {
  const { framed, plan } = leg([
    drawn("road", [
      [-900, 1080],
      [900, 1080],
    ]),
  ]);
  const run = oddsOf(frame, framed, plan);
  if (!run) throw new Error("no odds");
  const dots = cloud(frame, run);
  expect(dots).toHaveLength(400);
  const share = dots.filter(({ outcome }) => outcome === "found").length / 400;
  // Three standard deviations of a share of 400.
  expect(Math.abs(share - run.find)).toBeLessThan(0.075);
  for (const { lonLat, outcome } of dots) {
    const [s, t] = frame.toFrame(lonLat);
    if (outcome === "stopped") expect(Math.abs(s - 1080)).toBeLessThan(0.5);
    else expect(Math.hypot(s - 1000, t)).toBeLessThan(90);
  }
});
