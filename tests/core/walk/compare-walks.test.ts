/** What differs between two states of a walk. Lengths are GeographicLib's, the rest is plain counting. */
import { Geodesic } from "geographiclib-geodesic";
import { expect, it } from "vitest";
import { compareWalks, walkLength } from "../../../core/walk/compare-walks.ts";
import { parseWalk } from "../../../core/walk/walk-file.ts";
import type { Walk } from "../../../core/walk/walk.ts";

const walkOf = (positions: readonly (readonly [number, number])[]): Walk =>
  parseWalk(
    JSON.stringify({
      type: "Feature",
      properties: {},
      geometry: { type: "LineString", coordinates: positions },
    }),
    "test",
    "2026-06-01",
  ).walk;

const A = [-133.2, 46.3] as const;
const B = [-133.19, 46.31] as const;
const C = [-133.17, 46.3] as const;
const between = (from: readonly [number, number], to: readonly [number, number]): number =>
  Geodesic.WGS84.Inverse(from[1], from[0], to[1], to[0]).s12 ?? Number.NaN;

it("counts points that came, went, lie elsewhere or are called otherwise, legs and length", () => {
  const [two, three] = [walkOf([A, B]), walkOf([A, B, C])];
  expect(walkLength(three)).toBeCloseTo(between(A, B) + between(B, C), 6);
  expect(compareWalks(two, three)).toMatchObject({
    added: 1,
    gone: 0,
    moved: 0,
    legs: 2,
    legsMore: 1,
    other: false,
  });
  expect(compareWalks(two, three).longerM).toBeCloseTo(between(B, C), 6);
  expect(compareWalks(three, two)).toMatchObject({ added: 0, gone: 1, legsMore: -1, other: false });
  const [first, second] = two.points;
  if (!first || !second) throw new Error("two points");
  const changed = {
    ...two,
    points: [
      { ...first, name: "Hut" },
      { ...second, lonLat: C },
    ],
  };
  expect(compareWalks(two, changed)).toMatchObject({ moved: 1, renamed: 1, added: 0, other: false });
  expect(compareWalks(two, { ...two, notes: "wet" })).toMatchObject({ moved: 0, other: true });
  expect(compareWalks(two, { ...two, mapId: "another" })).toMatchObject({ other: false, longerM: 0 });
});

it("gives no legs and no length to nothing", () => {
  const empty = { ...walkOf([A, B]), points: [] };
  expect(compareWalks(empty, empty)).toMatchObject({ legs: 0, lengthM: 0, legsMore: 0 });
});
