/**
 * Landforms of two real models against the models' own samples and the descriptions of US Army FM 3-25.26 chapter 10 and
 * TC 3-25.26 chapter 9. The descriptions beside the checks are put in our words; those of the contours partly from memory.
 */
import { readFileSync } from "node:fs";
import proj4 from "proj4";
import { beforeAll, describe, expect, it } from "vitest";
import type { ElevationGrid } from "../../../../core/mapmaking/elevation/elevation-grid.ts";
import { type Ground, prepareGround } from "../../../../core/terrain/ground.ts";
import { CLIFF_DEG, type Landform, type LandformKind } from "../../../../core/terrain/landforms/landform.ts";
import { landformsIn } from "../../../../core/terrain/landforms/landforms-in.ts";
import { type Bbox, growBbox, type LonLat } from "../../../../core/units/position.ts";
import { modelOf, realGround } from "../support/real-ground.ts";

const MODELS = [
  { name: "bigtujunga", cellM: 30, box: [-118.2, 34.31, -118.135, 34.355], summits: "summits.json" },
  { name: "jacksboro", cellM: 92, box: [-84.3, 36.57, -84.215, 36.63], summits: "summits-jacksboro.json" },
] as const;
const RAD = Math.PI / 180;

describe.each(MODELS)("landforms of the real model $name", ({ name, cellM, box, summits }) => {
  let ground: Ground;
  let model: ElevationGrid;
  let forms: Landform[];
  beforeAll(async () => {
    model = await modelOf(name);
    ground = await realGround(name, 20);
    const whole = box as unknown as Bbox;
    await prepareGround(ground, growBbox(whole, 1000));
    forms = landformsIn(ground, whole).filter(({ lonLat: [lon, lat] }) => {
      return lon > box[0] && lat > box[1] && lon < box[2] && lat < box[3];
    });
  }, 120_000);
  const of = (...kinds: LandformKind[]): Landform[] => forms.filter((f) => kinds.includes(f.kind));

  /** Column and row of the model; whole numbers are its samples. */
  const inModel = ([lon, lat]: LonLat): [number, number] => {
    const [x, y] = proj4<[number, number]>("EPSG:4326", model.crs.proj, [lon, lat]);
    return [(x - model.origin[0]) / model.step[0], (y - model.origin[1]) / model.step[1]];
  };
  const sampleAt = (c: number, r: number): number => model.heights[r * model.columns + c] ?? Number.NaN;
  /** Height some metres east and north of a place. */
  const beside = ([lon, lat]: LonLat, east: number, north: number): number =>
    ground.elevation!.at([lon + east / (111_320 * Math.cos(lat * RAD)), lat + north / 110_950]);
  const ring = (place: LonLat, m: number, count = 24): number[] =>
    Array.from({ length: count }, (_, i) =>
      beside(place, m * Math.sin((2 * Math.PI * i) / count), m * Math.cos((2 * Math.PI * i) / count)),
    );

  it("have every summit within two cells of a true local maximum", () => {
    expect(of("hill").length).toBeGreaterThan(5);
    for (const { lonLat } of of("hill")) {
      const [column, row] = inModel(lonLat);
      let nearest = Infinity;
      for (let r = Math.floor(row) - 3; r <= row + 3; r++)
        for (let c = Math.floor(column) - 3; c <= column + 3; c++) {
          const around = [-1, 0, 1].flatMap((dr) => [-1, 0, 1].map((dc) => sampleAt(c + dc, r + dr)));
          if (sampleAt(c, r) === Math.max(...around))
            nearest = Math.min(nearest, Math.max(Math.abs(c - column), Math.abs(r - row)));
        }
      expect(nearest).toBeLessThanOrEqual(2);
    }
  });

  it("find each summit that stands out by more than 45 m, by its prominence worked out independently", () => {
    // tests/fixtures/terrain/README.md says how; null where the model ends before the prominence does.
    const all = JSON.parse(
      readFileSync(new URL(`../../../fixtures/terrain/${summits}`, import.meta.url), "utf8"),
    ) as [number, number, number, number | null][];
    const asked = all.filter(
      ([lon, lat, , p]) =>
        p !== null && p > 45 && lon > box[0] && lat > box[1] && lon < box[2] && lat < box[3],
    );
    expect(asked.length).toBeGreaterThan(2);
    for (const [lon, lat] of asked) {
      const [c, r] = inModel([lon, lat]);
      const near = of("hill").filter(({ lonLat }) => {
        const [hc, hr] = inModel(lonLat);
        return Math.max(Math.abs(hc - c), Math.abs(hr - r)) <= 2;
      });
      expect(near).toHaveLength(1);
    }
  });

  // "High ground from which the land falls in every direction"; the innermost ring is higher than those around it.
  it("have no summit lower than its surroundings", () => {
    for (const { lonLat, elevationM } of of("hill"))
      for (const m of [cellM, 1.5 * cellM])
        expect(elevationM - Math.max(...ring(lonLat, m))).toBeGreaterThan(0);
  });

  // "A hole: low ground with higher ground all round."
  it("have no floor of a depression higher than its surroundings", () => {
    for (const { lonLat, elevationM } of of("depression"))
      expect(Math.min(...ring(lonLat, cellM)) - elevationM).toBeGreaterThan(0);
  });

  // "A low place on the crest between two higher ones": along the crest a minimum, across it a maximum.
  it("have saddles that are lowest one way and highest another", () => {
    expect(of("saddle").length).toBeGreaterThan(3);
    for (const { lonLat, elevationM } of of("saddle")) {
      const higher = ring(lonLat, 3 * Math.min(cellM, 50), 72).map((h) => h > elevationM);
      const turns = higher.filter((up, i) => up !== higher[(i + 71) % 72]).length;
      expect(turns).toBeGreaterThanOrEqual(4);
    }
  });

  // "Ground falls on both sides of the crest line"; a spur as a ridge, but falling along its own line to one end.
  // "A long trough between higher ground"; a draw as a valley, on the side of a hill, ridge or valley, and steep.
  it("have lines with the ground on both sides lower or both sides higher", () => {
    let [held, looked] = [0, 0];
    for (const { kind, line } of of("ridge", "spur", "valley", "draw")) {
      const sign = kind === "ridge" || kind === "spur" ? 1 : -1;
      const points = Array.from({ length: line!.length / 2 }, (_, i): LonLat => [
        line![2 * i]!,
        line![2 * i + 1]!,
      ]);
      for (let i = 2; i < points.length - 2; i++) {
        const [a, b] = [points[i - 2]!, points[i + 2]!];
        const [east, north] = [(b[0] - a[0]) * Math.cos(a[1] * RAD), b[1] - a[1]];
        const far = Math.hypot(east, north);
        if (far === 0) continue;
        const here = beside(points[i]!, 0, 0);
        const side = (m: number): number =>
          sign * (here - beside(points[i]!, (north / far) * m, (-east / far) * m));
        looked++;
        if (side(100) > 0 && side(-100) > 0) held++;
      }
    }
    expect(looked).toBeGreaterThan(500);
    expect(held / looked).toBeGreaterThan(0.9);
  });

  it("have spurs and draws that fall along their own line, more than ridges and valleys do", () => {
    const falls = (kinds: LandformKind[]): number[] =>
      of(...kinds).map(({ line }) => {
        const [a, b]: [LonLat, LonLat] = [
          [line![0]!, line![1]!],
          [line!.at(-2)!, line!.at(-1)!],
        ];
        const far = Math.hypot((b[0] - a[0]) * 111_320 * Math.cos(a[1] * RAD), (b[1] - a[1]) * 110_950);
        return (beside(a, 0, 0) - beside(b, 0, 0)) / far;
      });
    const steep = falls(["spur", "draw"]);
    const gentle = falls(["ridge", "valley"]);
    // Lines are told from their higher end.
    expect(Math.min(...steep)).toBeGreaterThan(0);
    const middle = (of_: number[]): number => of_.toSorted((a, b) => a - b)[of_.length >> 1]!;
    expect(middle(steep)).toBeGreaterThan(Math.tan(6 * RAD));
    expect(middle(gentle)).toBeLessThan(middle(steep));
  });

  // "A drop that is upright or nearly so": slope above the chosen angle.
  it("call nothing a cliff that no sample of the model has nearly so steep", () => {
    for (const { lonLat } of of("cliff")) {
      const [column, row] = inModel(lonLat).map(Math.round) as [number, number];
      let steepest = 0;
      for (let r = row - 2; r <= row + 2; r++)
        for (let c = column - 2; c <= column + 2; c++)
          for (const [dc, dr] of [
            [1, 0],
            [0, 1],
            [1, 1],
            [1, -1],
          ] as const)
            steepest = Math.max(
              steepest,
              Math.abs(sampleAt(c + dc, r + dr) - sampleAt(c, r)) / (cellM * Math.hypot(dc, dr)),
            );
      expect(Math.atan(steepest) / RAD).toBeGreaterThan(CLIFF_DEG - 5);
    }
  });
});
