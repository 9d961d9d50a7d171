/**
 * Lines over the map. Where grid lines cross was worked out outside the project with GeoConvert (GeographicLib 2.1.2):
 * printf '8n 641000 5133000\n…' | GeoConvert -g -p 4
 */
import { bearing, point, pointToLineDistance, lineString } from "@turf/turf";
import { describe, expect, test } from "vitest";
import { declinationAt } from "../../../core/geodesy/declination.ts";
import { britishGrid } from "../../../core/geodesy/grid.ts";
import { declinationField } from "../../../renderer/overlay/declination-field.ts";
import { gridLabel, gridOverlay, gridOverlayStepM } from "../../../renderer/overlay/grid-overlay.ts";
import { magneticOverlay } from "../../../renderer/overlay/magnetic-overlay.ts";

const around = (lon: number, lat: number, half: number) => ({
  west: lon - half,
  east: lon + half,
  south: lat - half / 1.5,
  north: lat + half / 1.5,
});

const CROSSINGS = [
  { easting: 641_000, northing: 5_133_000, lonLat: [-133.167923011, 46.335896267] },
  { easting: 640_000, northing: 5_135_000, lonLat: [-133.18031275, 46.354094181] },
  { easting: 708_000, northing: 5_700_000, lonLat: [5.991178207, 51.413005684] },
  { easting: 260_000, northing: 6_247_000, lonLat: [18.404806908, -33.890076542] },
] as const;

describe("grid lines", () => {
  test.each(CROSSINGS)(
    "of $easting and $northing cross where GeoConvert has them",
    ({ easting, northing, lonLat }) => {
      const lines = gridOverlay(around(lonLat[0], lonLat[1], 0.02), null, 1000);
      for (const [axis, value] of [
        ["easting", easting],
        ["northing", northing],
      ] as const) {
        const off = lines
          .filter((line) => line.axis === axis && line.value === value)
          .map((line) =>
            pointToLineDistance(
              point([...lonLat]),
              lineString(line.lonLats.map(([lon, lat]) => [lon, lat])),
              {
                units: "meters",
              },
            ),
          );
        expect(Math.min(...off), axis).toBeLessThan(0.2);
      }
    },
  );

  test("stop at the edge of their zone: 6° E", () => {
    const lines = gridOverlay(around(6, 51.5, 0.03), null, 1000);
    const west = lines.filter(({ id }) => id.startsWith("31N"));
    const east = lines.filter(({ id }) => id.startsWith("32N"));
    expect(west.length).toBeGreaterThan(4);
    expect(east.length).toBeGreaterThan(4);
    expect(west.every(({ lonLats }) => lonLats.every(([lon]) => lon < 6))).toBe(true);
    expect(east.every(({ lonLats }) => lonLats.every(([lon]) => lon >= 6))).toBe(true);
  });

  test("of the person's own grid", () => {
    // Ordnance Survey, A Guide to Coordinate Systems in Great Britain, annex C: 52° 39' 27.2531" N 1° 43' 4.5177" E on OSGB36 is
    // E 651 409.903 N 313 177.270; on WGS 84 the place is some 100 m away, so lines are looked for around it.
    const lines = gridOverlay(around(1.716, 52.658, 0.02), britishGrid().projection, 1000);
    expect(lines.some(({ axis, value }) => axis === "easting" && value === 651_000)).toBe(true);
    expect(lines.some(({ axis, value }) => axis === "northing" && value === 313_000)).toBe(true);
  });

  test("are as far apart as the map allows, and have the figures of a grid reference", () => {
    expect(gridOverlayStepM(1.5)).toBe(100);
    expect(gridOverlayStepM(10)).toBe(1000);
    expect(gridOverlayStepM(100)).toBe(10_000);
    expect(gridOverlayStepM(20_000)).toBeNull();
    expect(gridLabel(5_133_000, 1000)).toBe("33");
    expect(gridLabel(640_300, 100)).toBe("403");
    expect(gridLabel(700_000, 100_000)).toBe("700");
  });
});

describe("lines to magnetic north", () => {
  const whole = around(-133.18, 46.34, 0.08);
  const settings = {
    date: "2026-11-27",
    declination: { use: "model", printed: null, beyondModel: false },
  } as const;

  test("run everywhere along the declination of the place", () => {
    const field = declinationField(whole, settings);
    if (!field) throw new Error("There is no declination.");
    const lines = magneticOverlay(around(-133.2, 46.32, 0.03), whole, field, 1000);
    expect(lines.length).toBeGreaterThan(3);
    for (const { lonLats } of lines)
      for (let i = 1; i < lonLats.length; i++) {
        const [a, b] = [lonLats[i - 1], lonLats[i]] as [readonly [number, number], readonly [number, number]];
        if (a[1] === b[1]) continue;
        // bearing on the sphere by turf; the ellipsoid turns it by up to 0.1°.
        expect(Math.abs(bearing([...a], [...b]) - declinationAt(a, 0, settings.date).deg)).toBeLessThan(0.12);
      }
  });

  test("stay where they are while the map is moved", () => {
    const field = declinationField(whole, settings);
    if (!field) throw new Error("There is no declination.");
    const at = (id: string, half: number): number => {
      const line = magneticOverlay(around(-133.18, 46.34, half), whole, field, 1000).find((l) => l.id === id);
      const i = line?.lonLats.findIndex(([, lat]) => lat >= whole.south / 2 + whole.north / 2) ?? -1;
      return line?.lonLats[i]?.[0] ?? Number.NaN;
    };
    expect(at("magnetic 0", 0.03)).toBeCloseTo(at("magnetic 0", 0.05), 9);
  });

  test("there are none where the declination is not known", () => {
    expect(declinationField(whole, { ...settings, date: "2050-01-01" })).toBeNull();
  });
});
