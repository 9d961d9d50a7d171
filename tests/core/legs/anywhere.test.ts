/** Legs anywhere on earth, on a map or off it, never fail and never give a figure that is no number. */
import fc from "fast-check";
import { beforeAll, describe, expect, test } from "vitest";
import { legTableCsv } from "../../../core/legs/table/leg-table-csv.ts";
import { legTableJson } from "../../../core/legs/table/leg-table-json.ts";
import { legTableText } from "../../../core/legs/table/leg-table-text.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import { walkFigures } from "../../../core/legs/walk-figures.ts";
import { WGS84 } from "../../../core/mapmaking/elevation/elevation-grid.ts";
import { makeMap } from "../../../core/mapmaking/make-map.ts";
import { bytesSource } from "../../../core/map/source.ts";
import { type Ground, openGround } from "../../../core/terrain/ground.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { place } from "./support/line-map.ts";

const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };

async function small(withTerrain: boolean): Promise<Ground> {
  const side = 90;
  const [west, north] = place(-1300, 1300);
  const heights = Float32Array.from({ length: side * side }, (_, i) =>
    // A hole in the model, so that legs run into voids as well.
    i % side > 70 && i < 20 * side ? NaN : 300 + 80 * Math.sin((i % side) / 9) + 60 * Math.cos(i / side / 7),
  );
  const { archive, terrain } = await makeMap({
    elevation: {
      key: "small",
      columns: side,
      rows: side,
      heights,
      origin: [west, north],
      step: [1 / 3600, -1 / 3600],
      crs: WGS84,
    },
    interval: { value: 10, unit: "m" },
    about: { title: "Small", source: null, date: null, attribution: null, datum: null, invented: true },
    zooms: { min: 13, max: 14 },
  });
  return openGround(
    bytesSource("small.pmtiles", archive),
    withTerrain ? bytesSource("small.terrain.pmtiles", terrain) : null,
  );
}

const near = fc
  .tuple(fc.double({ min: -2500, max: 2500, noNaN: true }), fc.double({ min: -2500, max: 2500, noNaN: true }))
  .map(([e, n]) => place(e, n));
const far = fc.tuple(
  fc.double({ min: -180, max: 180, noNaN: true }),
  fc.double({ min: -90, max: 90, noNaN: true }),
);
const odd = fc.constantFrom<LonLat>(
  [180, 0],
  [-180, 0],
  [179.9999, 16],
  [-179.9999, 16.001],
  [0, 90],
  [77, -90],
  [20.45, -34.02],
  [0, 0],
);
const anywhere = fc.oneof(
  { weight: 6, arbitrary: near },
  { weight: 1, arbitrary: far },
  { weight: 2, arbitrary: odd },
);
const walk = fc.array(anywhere, { minLength: 2, maxLength: 6 });

describe.for([true, false])("terrain tiles: %s", (withTerrain) => {
  let ground: Ground;
  beforeAll(async () => {
    ground = await small(withTerrain);
  }, 60_000);

  test("every leg has its figures or its reasons", async () => {
    await fc.assert(
      fc.asyncProperty(walk, async (positions) => {
        const points = positions.map((lonLat, i) => ({ label: String(i), lonLat }));
        const figures = await walkFigures(points, ground, settings);
        const table = { title: "t", date: settings.date, points, figures, map: ground.map.info, settings };
        const json = legTableJson(table);
        // JSON writes what is no number as null: every null needs a figure that is null itself and a sentence.
        for (const [i, leg] of json.legs.entries()) {
          for (const [name, value] of Object.entries(leg))
            if (typeof value === "number") expect(Number.isFinite(value), `leg ${i + 1} ${name}`).toBe(true);
          const { bearingMagneticDeg, climbM, timeS, backstop, notes } = leg;
          if ([bearingMagneticDeg, climbM, timeS, backstop].includes(null))
            expect(notes.length, JSON.stringify(leg)).toBeGreaterThan(0);
          for (const c of leg.crossings) {
            expect(c.atM).toBeGreaterThanOrEqual(0);
            expect(c.atM).toBeLessThanOrEqual(leg.distanceM + 0.001);
          }
          for (const h of leg.handrails) {
            expect(h.coverage).toBeGreaterThan(0);
            expect(h.coverage).toBeLessThanOrEqual(1);
            expect(h.toM).toBeGreaterThan(h.fromM);
            expect(h.minOffsetM).toBeLessThanOrEqual(h.meanOffsetM + 1e-3);
            expect(h.meanOffsetM).toBeLessThanOrEqual(h.maxOffsetM + 1e-3);
            expect(h.maxOffsetM).toBeLessThanOrEqual(settings.handrailOffsetM + 1e-3);
          }
          if (leg.backstop) expect(leg.backstop.beyondM).toBeGreaterThanOrEqual(0);
        }
        expect(legTableText(table) + legTableCsv(table)).not.toMatch(/NaN|undefined|Infinity/);
      }),
      { seed: 11, numRuns: 150 },
    );
  });
});
