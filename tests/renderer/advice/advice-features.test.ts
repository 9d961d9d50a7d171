import { bearing, booleanPointInPolygon, distance, lineIntersect, lineString, polygon } from "@turf/turf";
import { pointToLineDistance } from "@turf/turf";
import { describe, expect, test } from "vitest";
import type { Hazard } from "../../../core/legs/aids/hazards.ts";
import { direct } from "../../../core/geodesy/geodesic.ts";
import { trueBearing } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import {
  awayM,
  cloudPlaces,
  escapeRays,
  hazardShapes,
  isIn,
} from "../../../renderer/advice/advice-features.ts";

const START: LonLat = [-3.2, 54.5];
const at = (eastM: number, northM: number): LonLat =>
  direct(direct(START, trueBearing(90), eastM), trueBearing(0), northM);
const flat = (...places: readonly LonLat[]): Float64Array => Float64Array.from(places.flat());

const hazard = (...stretches: Float64Array[]): Hazard => ({ stretches }) as unknown as Hazard;
const ring = flat(at(0, 0), at(100, 0), at(100, 80), at(0, 80), at(0, 0));

describe("dangers as shapes", () => {
  test("closed outlines are areas, open ones are lines, each with its danger's place", () => {
    const shapes = hazardShapes([hazard(flat(at(0, 0), at(50, 0))), hazard(ring, flat(at(5, 5), at(9, 9)))]);
    expect(shapes.map(({ at: place, isArea, lines }) => [place, isArea, lines.length])).toEqual([
      [0, false, 1],
      [1, true, 1],
      [1, false, 1],
    ]);
  });
});

// Checked against turf.
describe("what the pointer is on", () => {
  const outline = polygon([
    [at(0, 0), at(100, 0), at(100, 80), at(0, 80), at(0, 0)].map((place) => [...place]),
  ]);
  const line = lineString([at(0, 0), at(100, 0), at(100, 80)].map((place) => [...place]));
  const places = Array.from({ length: 400 }, (_, i) =>
    at(-40 + (i % 20) * 9.3, -30 + Math.floor(i / 20) * 7.1),
  );

  test("inside an outline as turf has it", () => {
    for (const place of places) expect(isIn([ring], place)).toBe(booleanPointInPolygon([...place], outline));
  });

  test("as far from a line as turf has it, within 1 %", () => {
    for (const place of places) {
      const ours = awayM([flat(at(0, 0), at(100, 0), at(100, 80))], place);
      const theirs = pointToLineDistance([...place], line, { units: "meters" });
      expect(Math.abs(ours - theirs)).toBeLessThan(0.2 + theirs * 0.01);
    }
  });
});

describe("ways out as rays", () => {
  const leg = { fromLonLat: at(0, 0), toLonLat: at(1000, 0) };

  test("run on the bearing from start, middle and end, to where turf has them cross the line", () => {
    const road = [at(-400, 700), at(600, 500), at(1800, 900)];
    const rays = escapeRays(leg, { bearingTrueDeg: trueBearing(20), stretches: [flat(...road)] });
    expect(rays).toHaveLength(3);
    rays.forEach(([from, to], i) => {
      const begun = at(i * 500, 0);
      expect(distance([...from], [...begun], { units: "meters" })).toBeLessThan(1);
      expect(bearing([...from], [...to])).toBeCloseTo(20, 0.9);
      const far = direct(begun, trueBearing(20), 2000);
      const met = lineIntersect(lineString([[...begun], [...far]]), lineString(road.map((one) => [...one])));
      const place = met.features[0]?.geometry.coordinates as [number, number];
      expect(distance([...to], place, { units: "meters" })).toBeLessThan(2);
    });
  });

  test("one that meets nothing is left out, and so are all of a leg without length", () => {
    const short = [at(0, 300), at(700, 300)];
    const escape = { bearingTrueDeg: trueBearing(0), stretches: [flat(...short)] };
    expect(escapeRays(leg, escape)).toHaveLength(2);
    expect(escapeRays({ fromLonLat: START, toLonLat: START }, escape)).toEqual([]);
  });
});

test("ends of walkers are sorted by what became of them, none lost", () => {
  const places = cloudPlaces({
    cloud: [
      { lonLat: at(1, 1), outcome: "found" },
      { lonLat: at(2, 2), outcome: "missed" },
      { lonLat: at(3, 3), outcome: "found" },
    ],
  });
  expect([places.found.length, places.stopped.length, places.missed.length]).toEqual([2, 0, 1]);
});
