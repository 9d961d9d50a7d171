import { describe, expect, test } from "vitest";
import type { Hazard } from "../../../core/legs/aids/hazards.ts";
import { gravestFirst } from "../../../renderer/advice/hazard-order.ts";
import { hazardStretches } from "../../../renderer/ribbon/hazard-stretches.ts";

const danger = (kind: Hazard["kind"], fromM: number, toM: number, side: Hazard["side"] = "on"): Hazard =>
  ({ kind, name: null, fromM, toM, side, steep: null }) as unknown as Hazard;
const SIDES = { on: "on the way", left: "left", right: "right" };

describe("dangers on the ribbon", () => {
  test("what overlaps is one stretch with the gravest's word; what is apart is another", () => {
    const legs = [
      {
        distanceM: 1000,
        hazards: [danger("wetland", 100, 300), danger("cliff", 250, 400, "left"), danger("stream", 600, 640)],
      },
    ];
    expect(hazardStretches(legs, SIDES)).toEqual([
      { leg: 0, fromM: 100, toM: 400, versions: ["cliff left", "cliff"] },
      { leg: 0, fromM: 600, toM: 640, versions: ["stream on the way", "stream"] },
    ]);
  });

  test("they are counted along the whole walk, and end with their leg; beyond the target there is no ribbon", () => {
    const legs = [
      { distanceM: 500, hazards: [danger("water", 450, 700, "right")] },
      { distanceM: 300, hazards: [danger("water", 310, 400), danger("rail", 10, 20)] },
    ];
    expect(hazardStretches(legs, SIDES).map(({ leg, fromM, toM }) => [leg, fromM, toM])).toEqual([
      [0, 450, 500],
      [1, 510, 520],
    ]);
  });

  test("the gravest come first: falls before water, on the line before beside it", () => {
    const some = [
      danger("stream", 0, 9),
      danger("water", 0, 9, "left"),
      danger("water", 50, 60),
      danger("cliff", 90, 99, "right"),
    ];
    expect(gravestFirst(some).map(({ kind, side }) => `${kind} ${side}`)).toEqual([
      "cliff right",
      "water on",
      "water left",
      "stream on",
    ]);
  });
});
