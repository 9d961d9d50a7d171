/**
 * The same lines cut into tiles at two places and not cut at all: the figures of a leg are the same.
 * Tiles round positions to 1/4096 of a tile, here half a metre; what depends on an angle may move by some metres.
 */
import { beforeAll, describe, expect, test } from "vitest";
import type { LegFigures } from "../../../core/legs/figures.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import { walkFigures } from "../../../core/legs/walk-figures.ts";
import { WGS84 } from "../../../core/mapmaking/elevation/elevation-grid.ts";
import { makeMap } from "../../../core/mapmaking/make-map.ts";
import type { Role } from "../../../core/map/kinds.ts";
import { bytesSource } from "../../../core/map/source.ts";
import { type Ground, openGround } from "../../../core/terrain/ground.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { drawn, hills, lineMap, metres, pairs, place } from "./support/line-map.ts";

const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };
const TILE_DEG = 360 / 2 ** 14;

const wave = (n: number, at: number, high: number): [number, number][] =>
  Array.from({ length: n }, (_, i) => [-2600 + i * 40, at + high * Math.sin(i / 4)]);
const LINES = [
  drawn("stream", wave(130, 40, 25), "Fern Beck"),
  drawn("path", wave(130, -700, 60), "Long Path"),
  drawn("road", wave(130, 1100, 200), "Moor Road"),
  drawn(
    "wall",
    [
      [-400, -2000],
      [-380, 2000],
    ],
    "March Wall",
  ),
  drawn(
    "fence",
    [
      [900, -2000],
      [1300, 2000],
    ],
    "New Fence",
  ),
  drawn(
    "powerLine",
    [
      [-2000, -1800],
      [2000, 1500],
    ],
    "Line 7",
  ),
];
const heightAt = (e: number, n: number): number => 400 + 90 * Math.sin(e / 500) + 60 * Math.cos(n / 400);

const shifted = ([lon, lat]: LonLat, by: number): LonLat => [lon + by * TILE_DEG, lat];

async function tiled(by: number): Promise<Ground> {
  const [west, south] = place(-2900, -2600);
  const side = 180;
  const step = 1 / 3600;
  const heights = Float32Array.from({ length: side * side }, (_, i) =>
    heightAt(...metres([west + (i % side) * step, south + (side - 1 - Math.floor(i / side)) * step])),
  );
  const { archive, terrain } = await makeMap({
    elevation: {
      key: "waves",
      columns: side,
      rows: side,
      heights,
      step: [step, -step],
      crs: WGS84,
      origin: shifted([west, south + (side - 1) * step], by),
    },
    features: LINES.map(({ kind, name, coords }) => ({
      role: kind as Role,
      geometry: { type: "LineString", coordinates: Array.from(pairs(coords), (p) => shifted(p, by)) },
      attributes: { name: name as string },
    })),
    interval: { value: 10, unit: "m" },
    about: { title: "Waves", source: null, date: null, attribution: null, datum: null, invented: true },
    derive: { streams: false, ridges: false, spotHeights: false },
    zooms: { min: 13, max: 14 },
  });
  return openGround(bytesSource("waves.pmtiles", archive), bytesSource("waves.terrain.pmtiles", terrain));
}

const POINTS = [
  place(-1500, 60),
  place(-200, 80),
  place(700, -650),
  place(-900, -690),
  place(-380, 900),
  place(1100, 1050),
  place(600, -300),
  place(-1800, -1500),
];
const figuresOn = async (ground: Ground, by: number): Promise<readonly LegFigures[]> =>
  (
    await walkFigures(
      POINTS.map((p, i) => ({ label: String(i), lonLat: shifted(p, by) })),
      ground,
      settings,
    )
  ).legs;

describe("lines cut into tiles", () => {
  let uncut: readonly LegFigures[] = [];
  let cut: readonly (readonly LegFigures[])[] = [];
  beforeAll(async () => {
    uncut = await figuresOn({ map: lineMap(LINES), elevation: hills(heightAt) }, 0);
    cut = await Promise.all([0, 0.37, 1].map(async (by) => figuresOn(await tiled(by), by)));
  }, 60_000);

  test("something is found on every leg", () => {
    expect(
      uncut.reduce((sum, { crossings }) => sum + crossings.filter((c) => c.name !== null).length, 0),
    ).toBeGreaterThan(15);
    expect(uncut.filter(({ handrails }) => handrails.length > 0).length).toBeGreaterThan(3);
    expect(uncut.filter(({ backstop }) => backstop).length).toBeGreaterThan(3);
  });

  test.for([0, 1, 2])("cut %i: crossings, handrails and backstops as of the whole lines", (which) => {
    const legs = cut[which] ?? [];
    expect(legs).toHaveLength(uncut.length);
    legs.forEach((leg, i) => {
      const whole = uncut[i] as LegFigures;
      // Contours are made with the tiles, and changes of slope come from the terrain: the lines drawn have names.
      const named = ({ crossings }: LegFigures): typeof crossings => crossings.filter((c) => c.name !== null);
      expect(
        named(leg).map(({ name }) => name),
        `leg ${i + 1}`,
      ).toEqual(named(whole).map(({ name }) => name));
      named(leg).forEach((crossing, k) =>
        expect(Math.abs(crossing.atM - (named(whole)[k]?.atM ?? NaN))).toBeLessThan(2),
      );
      const spans = ({ handrails }: LegFigures): string[] =>
        handrails.map(({ name, side }) => `${name} ${side}`).toSorted();
      expect(spans(leg), `leg ${i + 1}`).toEqual(spans(whole));
      for (const h of leg.handrails) {
        const same = whole.handrails
          .filter(({ name, side }) => name === h.name && side === h.side)
          .map(({ fromM }) => Math.abs(fromM - h.fromM));
        expect(Math.min(...same), `leg ${i + 1}: ${h.name}`).toBeLessThan(5);
      }
      expect(leg.backstop?.name, `leg ${i + 1}`).toBe(whole.backstop?.name);
      expect(Math.abs((leg.backstop?.beyondM ?? 0) - (whole.backstop?.beyondM ?? 0))).toBeLessThan(2);
      expect(Math.abs(leg.distanceM - whole.distanceM)).toBeLessThan(1e-6);
    });
  });

  test("moved by a whole tile, heights change by no more than their rounding", () => {
    const [here, , there] = cut;
    here?.forEach((leg, i) => {
      const other = there?.[i] as LegFigures;
      expect(Math.abs((leg.climbM as number) - (other.climbM as number))).toBeLessThan(0.5);
      expect(Math.abs((leg.slopeDistanceM as number) - (other.slopeDistanceM as number))).toBeLessThan(0.2);
    });
  });
});
