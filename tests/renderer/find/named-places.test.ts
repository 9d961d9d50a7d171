import { expect, test } from "vitest";
import type { AreaFeature, LineFeature, MapFeatures, PointFeature } from "../../../core/map/features.ts";
import { namedPlaces } from "../../../renderer/find/named-places.ts";

const none = { attributes: {}, elevationM: Number.NaN, index: false };
const line = (name: string | null, kind: LineFeature["kind"], coords: number[]): LineFeature => ({
  ...none,
  kind,
  name,
  coords: new Float64Array(coords),
});
const area = (name: string, ring: number[]): AreaFeature => ({
  kind: "water",
  name,
  elevationM: Number.NaN,
  rings: [new Float64Array(ring)],
  attributes: {},
});
const peak = (name: string | null, at: [number, number], elevationM: number): PointFeature => ({
  kind: "peak",
  name,
  elevationM,
  lonLat: at,
  attributes: {},
});

// A lake like a U open to the north: its box's middle lies on land, between the arms.
const HORSESHOE = [0, 0, 10, 0, 10, 10, 6, 10, 6, 2, 4, 2, 4, 10, 0, 10, 0, 0];

const map = (points: PointFeature[], lines: LineFeature[], areas: AreaFeature[]): MapFeatures =>
  ({ points: () => points, lines: () => lines, areas: () => areas }) as unknown as MapFeatures;

test("each name once by kind; the larger piece gives the place; what has no name is left out", () => {
  const found = namedPlaces(
    map(
      [peak("Knott", [1, 2], 404), peak(null, [3, 3], 1), peak("Bare", [5, 5], Number.NaN)],
      [
        line("Beck", "stream", [0, 0, 1, 1]),
        line("Beck", "stream", [5, 5, 6, 6, 7, 7, 8, 8, 9, 9]),
        line("Beck", "path", [20, 20, 21, 21]),
        line("Wood", "woodEdge", [0, 0, 1, 1]),
        line(null, "path", [0, 0, 1, 1]),
      ],
      [],
    ),
    [0, 0, 30, 30],
  );
  expect(found.map(({ name, kind }) => `${name} ${kind}`)).toEqual([
    "Knott peak",
    "Bare peak",
    "Beck stream",
    "Beck path",
  ]);
  expect(found.map(({ elevationM, spot }) => [elevationM, spot])).toEqual([
    [404, true],
    [null, true],
    [null, false],
    [null, false],
  ]);
  expect(found[2]?.lonLat).toEqual([7, 7]);
});

test("the place of a bent lake lies in its water", () => {
  const [lake] = namedPlaces(map([], [], [area("Water", HORSESHOE)]), [0, 0, 30, 30]);
  const [x, y] = lake!.lonLat;
  expect(y).toBe(5);
  expect((x > 0 && x < 4) || (x > 6 && x < 10)).toBe(true);
});
