import { distance, bearing } from "@turf/turf";
import { describe, expect, test } from "vitest";
import { addPoint } from "../../../core/walk/edits.ts";
import { emptyWalk, type Walk } from "../../../core/walk/walk.ts";
import type { LegFigures } from "../../../core/legs/figures.ts";
import { driftCone, walkFeatures } from "../../../renderer/map/walk-features.ts";

const A = [-121.5, 48.1] as const;
const B = [-121.48, 48.11] as const;
const C = [-121.46, 48.1] as const;
const three: Walk = [A, B, C].reduce<Walk>((walk, at) => addPoint(walk, at), emptyWalk("2026-06-01"));

const picture = { walk: three, shownLeg: 0, pointedLeg: null, figures: null, driftDeg: 6, rubberTo: null };
const whats = (features: GeoJSON.FeatureCollection): unknown[] =>
  features.features.map(({ properties }) => properties?.["what"]);

describe("the walk as features", () => {
  test("every leg once, the shown one as picked, the pointed one marked", () => {
    expect(whats(walkFeatures(picture)).filter((what) => String(what).includes("leg"))).toEqual([
      "leg",
      "picked-leg",
    ]);
    expect(whats(walkFeatures({ ...picture, pointedLeg: 1 }))).toContain("pointed-leg");
  });

  test("no leg, no features", () => {
    expect(walkFeatures({ ...picture, walk: emptyWalk("2026-06-01"), shownLeg: null }).features).toEqual([]);
  });

  test("the line to the pointer starts at the last point", () => {
    const { features } = walkFeatures({ ...picture, rubberTo: [-121.4, 48.12] });
    const rubber = features.find(({ properties }) => properties?.["what"] === "rubber");
    expect(rubber?.geometry).toMatchObject({ type: "LineString", coordinates: [[...C], [-121.4, 48.12]] });
  });

  test("what to follow and what stops are drawn as they run", () => {
    const figures = {
      handrails: [{ stretches: [Float64Array.of(1, 2, 3, 4)] }, { stretches: [Float64Array.of(9, 9, 8, 8)] }],
      backstop: { beyondM: 100, stretches: [Float64Array.of(5, 6, 7, 8)] },
    } as unknown as LegFigures;
    const { features } = walkFeatures({ ...picture, figures });
    const of = (what: string) =>
      features
        .filter(({ properties }) => properties?.["what"] === what)
        .map(({ geometry }) => (geometry as GeoJSON.LineString).coordinates);
    expect(of("follow")).toEqual([
      [
        [1, 2],
        [3, 4],
      ],
    ]);
    expect(of("stop")).toEqual([
      [
        [5, 6],
        [7, 8],
      ],
    ]);
  });
});

// The sphere of turf differs from the ellipsoid by up to 0.6 % in length and a few hundredths of a degree in angle here.
describe("the drift cone", () => {
  test("opens by the drift to either side and reaches past the target", () => {
    const cone = driftCone(A, B, 6, 150);
    const ring = cone?.coordinates[0] as [number, number][];
    const left = ring[1] as [number, number];
    const right = ring.at(-2) as [number, number];
    const way = bearing([...A], [...B]);
    expect(bearing([...A], left) - way).toBeCloseTo(-6, 0);
    expect(bearing([...A], right) - way).toBeCloseTo(6, 0);
    const reach = distance([...A], [...B], { units: "meters" }) + 150;
    for (const edge of ring.slice(1, -1))
      expect(Math.abs(distance([...A], edge, { units: "meters" }) / reach - 1)).toBeLessThan(0.006);
  });

  test("there is none where there is no direction", () => {
    expect(driftCone(A, A, 6, null)).toBeNull();
  });
});
