import { readFileSync } from "node:fs";
import proj4 from "proj4";
import { beforeAll, describe, expect, it } from "vitest";
import { inverse } from "../../../../core/geodesy/geodesic.ts";
import { legFrame } from "../../../../core/geodesy/leg-frame.ts";
import type { ElevationGrid } from "../../../../core/mapmaking/elevation/elevation-grid.ts";
import { type Ground, prepareGround } from "../../../../core/terrain/ground.ts";
import { LANDFORM_REACH_M, type Landform } from "../../../../core/terrain/landforms/landform.ts";
import { landformsAlong } from "../../../../core/terrain/landforms/landforms-along.ts";
import { landformsIn } from "../../../../core/terrain/landforms/landforms-in.ts";
import { nameLandformAt } from "../../../../core/terrain/landforms/name-landform.ts";
import { type Bbox, bboxOf, growBbox, type LonLat } from "../../../../core/units/position.ts";
import { gdalLegs, modelOf, realGround } from "../support/real-ground.ts";

const CELL_M = 30;
const BOX: Bbox = [-118.2, 34.31, -118.135, 34.355];
const inBox = ([lon, lat]: LonLat): boolean => lon > BOX[0] && lat > BOX[1] && lon < BOX[2] && lat < BOX[3];
const farM = (a: LonLat, b: LonLat): number => inverse(a, b).distanceM;

/** See tests/fixtures/terrain/README.md. */
const summits = JSON.parse(
  readFileSync(new URL("../../../fixtures/terrain/summits.json", import.meta.url)).toString(),
) as (readonly [lon: number, lat: number, heightM: number, prominenceM: number | null])[];

describe("landforms of the real model bigtujunga", () => {
  let ground: Ground;
  let alone: Ground;
  let forms: Landform[];
  beforeAll(async () => {
    ground = await realGround("bigtujunga", 20);
    alone = { map: ground.map, elevation: null };
    await prepareGround(ground, growBbox(BOX, 1500));
    await prepareGround(alone, growBbox(BOX, 1500));
    forms = landformsIn(ground, BOX);
  }, 120_000);
  const hills = (): Landform[] => forms.filter((f) => f.kind === "hill" && inBox(f.lonLat));

  it("have their summits within two cells of the model's own", () => {
    expect(hills().length).toBeGreaterThan(8);
    for (const hill of hills().filter((h) => h.reliefM > 30)) {
      const nearest = Math.min(...summits.map(([lon, lat]) => farM([lon, lat], hill.lonLat)));
      expect(nearest).toBeLessThan(2 * CELL_M * Math.SQRT2);
    }
  });

  it("miss no summit that stands out by more than 35 m, and have its prominence", () => {
    const asked = summits.filter(([lon, lat, , p]) => inBox([lon, lat]) && p !== null && p > 35);
    expect(asked.length).toBeGreaterThan(3);
    for (const [lon, lat, heightM, prominenceM] of asked) {
      const hill = hills().find((h) => farM([lon, lat], h.lonLat) < 2 * CELL_M * Math.SQRT2);
      expect(hill).toBeDefined();
      expect(Math.abs(hill!.elevationM - heightM)).toBeLessThan(5);
      if (!hill!.atLeast) expect(Math.abs(hill!.reliefM - prominenceM!)).toBeLessThan(8);
      else expect(hill!.reliefM).toBeLessThan(prominenceM! + 8);
    }
  });

  it("have no summit lower than its surroundings, and no floor higher", () => {
    const around = ([lon, lat]: LonLat, m: number): number[] =>
      Array.from({ length: 16 }, (_, i) => {
        const [dx, dy] = [Math.sin((i * Math.PI) / 8) * m, Math.cos((i * Math.PI) / 8) * m];
        return ground.elevation!.at([lon + dx / 91_900, lat + dy / 110_900]);
      });
    for (const { kind, lonLat, elevationM } of forms) {
      if (!inBox(lonLat) || (kind !== "hill" && kind !== "depression")) continue;
      // Beyond the steps of the grid all round the ground lies on the one side.
      const sign = kind === "hill" ? 1 : -1;
      for (const h of around(lonLat, 60)) expect(sign * (elevationM - h)).toBeGreaterThan(0);
      for (const h of around(lonLat, 30)) expect(sign * (elevationM - h)).toBeGreaterThan(-4);
    }
  });

  it("have saddles with higher ground on two sides and lower on two", () => {
    const saddles = forms.filter((f) => f.kind === "saddle" && inBox(f.lonLat));
    expect(saddles.length).toBeGreaterThan(5);
    for (const {
      lonLat: [lon, lat],
      elevationM,
    } of saddles) {
      const ring = Array.from({ length: 72 }, (_, i) => {
        const [dx, dy] = [Math.sin((i * Math.PI) / 36) * 90, Math.cos((i * Math.PI) / 36) * 90];
        return ground.elevation!.at([lon + dx / 91_900, lat + dy / 110_900]) > elevationM;
      });
      // Going round once, the ground changes from higher to lower at least twice and back as often.
      expect(ring.filter((higher, i) => higher !== ring[(i + 71) % 72]).length).toBeGreaterThanOrEqual(4);
    }
  });

  it("put a leg's crests and troughs where the ground says, judged by heights to the side alone", async () => {
    let checked = 0;
    for (const { from, to } of gdalLegs("bigtujunga").legs) {
      const frame = legFrame(from, to);
      await prepareGround(ground, growBbox(bboxOf([from, to]) as Bbox, LANDFORM_REACH_M));
      let last = 0;
      for (const { kind, fromM, toM, atM, way } of landformsAlong(ground, frame)) {
        expect(fromM).toBeLessThanOrEqual(atM);
        expect(atM).toBeLessThanOrEqual(toM);
        expect(fromM).toBeGreaterThanOrEqual(0);
        expect(toM).toBeLessThanOrEqual(frame.lengthM + 1e-6);
        expect(atM).toBeGreaterThanOrEqual(last);
        last = atM;
        if (way !== "across" || !["spur", "ridge", "draw", "valley"].includes(kind)) continue;
        const sign = kind === "spur" || kind === "ridge" ? 1 : -1;
        const at = (s: number, t: number): number => ground.elevation!.at(frame.toLonLat(s, t));
        // In some direction the ground falls (rises) by 3 m within 100 m on both sides.
        const opposite = Array.from({ length: 72 }, (_, i) => {
          const [ds, dt] = [100 * Math.cos((i * Math.PI) / 72), 100 * Math.sin((i * Math.PI) / 72)];
          return Math.min(sign * (at(atM, 0) - at(atM + ds, dt)), sign * (at(atM, 0) - at(atM - ds, -dt)));
        });
        expect(Math.max(...opposite)).toBeGreaterThan(2.5);
        checked++;
      }
    }
    expect(checked).toBeGreaterThan(30);
  });

  it("meet the same landforms when walked the other way", async () => {
    for (const { from, to } of gdalLegs("bigtujunga").legs.slice(0, 12)) {
      const [there, back] = [
        landformsAlong(ground, legFrame(from, to)),
        landformsAlong(ground, legFrame(to, from)),
      ];
      const across = (l: typeof there): string[] => l.filter((f) => f.way === "across").map((f) => f.kind);
      expect(across(back).toReversed()).toEqual(across(there));
    }
  });

  it("from contours alone are hills, each near a summit of the model, and depressions; legs have none", async () => {
    const rings = landformsIn(alone, BOX);
    expect(rings.length).toBeGreaterThan(8);
    const model = summitsOf(await modelOf("bigtujunga"));
    for (const { kind, extent, reliefM } of rings.filter((f) => f.kind === "hill")) {
      expect(kind).toBe("hill");
      expect(reliefM).toBeGreaterThanOrEqual(0);
      const box = growBbox(extent, CELL_M);
      expect(model.some(([lon, lat]) => lon > box[0] && lat > box[1] && lon < box[2] && lat < box[3])).toBe(
        true,
      );
    }
    // And hills that stand out by more than two intervals are among them.
    for (const hill of hills().filter((h) => h.reliefM > 45))
      expect(
        rings.some(
          (r) =>
            r.kind === "hill" &&
            hill.lonLat[0] >= growBbox(r.extent, CELL_M)[0] &&
            hill.lonLat[1] >= growBbox(r.extent, CELL_M)[1] &&
            hill.lonLat[0] <= growBbox(r.extent, CELL_M)[2] &&
            hill.lonLat[1] <= growBbox(r.extent, CELL_M)[3],
        ),
      ).toBe(true);
    expect(landformsAlong(alone, legFrame([-118.18, 34.33], [-118.17, 34.33]))).toEqual([]);
    expect(nameLandformAt(alone, [-118.18, 34.33]).why).toContain("contours alone");
  });
});

/** Samples no lower than their eight neighbours. */
function summitsOf({ columns, rows, heights, origin, step, crs }: ElevationGrid): LonLat[] {
  const { forward } = proj4(crs.proj, "EPSG:4326");
  const around = [-columns - 1, -columns, 1 - columns, -1, 1, columns - 1, columns, columns + 1];
  const found: LonLat[] = [];
  for (let r = 1; r < rows - 1; r++)
    for (let c = 1; c < columns - 1; c++) {
      const i = r * columns + c;
      if (around.some((d) => heights[i + d]! > heights[i]!)) continue;
      const [lon, lat] = forward([origin[0] + c * step[0], origin[1] + r * step[1]]);
      found.push([lon, lat]);
    }
  return found;
}
