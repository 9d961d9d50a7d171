/**
 * Norths on the sheet. Rules and angles: US Army TC 3-25.26 (2013), para 6-13 and table 6-1, with the worked triples of declination,
 * convergence and grid–magnetic angle done by hand for the tests.
 */
import { describe, expect, it } from "vitest";
import { declinationAt } from "../../../../core/geodesy/declination.ts";
import { toUtm } from "../../../../core/geodesy/utm.ts";
import { northDiagram, northLines, northWords } from "../../../../core/sheet/furniture/north-diagram.ts";
import { declinationAcross, magneticLines } from "../../../../core/sheet/furniture/magnetic-lines.ts";
import { sheetDeclination } from "../../../../core/sheet/furniture/sheet-declination.ts";
import { sheetFrame, type SheetFrame } from "../../../../core/sheet/frame/sheet-frame.ts";
import { DEG } from "../../../../core/units/angle.ts";
import { flat, groupsOf, texts } from "./items.ts";
import { plainRuler } from "./plain-ruler.ts";

const MAP = { x: 13.6, y: 16.6, width: 182.8, height: 218 };
const frame = sheetFrame({ centre: [8.63, 60.61], scale: 25_000, map: MAP });
/** As if the sheet's convergence were this. */
const converging = (convergenceDeg: number, turnDeg = 0): SheetFrame => ({
  ...frame,
  convergenceDeg,
  turnDeg,
});
const MODEL = {
  date: "2026-06-15",
  declination: { use: "model", printed: null, beyondModel: false },
} as const;

/** Declination, convergence, grid–magnetic angle. */
const TRIPLES = [
  [10, -1.5, 11.5],
  [-4, 0.75, -4.75],
  [18, 2, 16],
  [-15.5, -2, -13.5],
  [0, 1.2, -1.2],
] as const;

const bearingOf = (shape: { readonly parts: readonly Float64Array[] }): number => {
  const [ax, ay, bx, by] = shape.parts[0] as Float64Array as unknown as [number, number, number, number];
  return Math.atan2(bx - ax, ay - by) / DEG;
};

describe.each(TRIPLES)("declination %d°, convergence %d°", (declination, convergence, angle) => {
  it("is said as the manual's rule has it", () => {
    const words = northWords(
      converging(convergence),
      { ...sheetDeclination(frame, null, MODEL), deg: declination },
      "2026-06-15",
      null,
    )
      .map(({ text }) => text)
      .join(" ");
    const size = Math.abs(angle).toFixed(1);
    // Easterly: subtract from grid to magnetic; westerly: add.
    expect(words).toContain(`Map to compass: ${angle > 0 ? "subtract" : "add"} ${size}°`);
    expect(words).toContain(`compass to map: ${angle > 0 ? "add" : "subtract"} ${size}°`);
    expect(words).toContain(`Magnetic north lies ${size}°\u00a0${angle > 0 ? "E" : "W"} of grid north.`);
  });

  it.each([0, 33, 200])("is drawn at the real angles on a sheet turned by %d°", (turn) => {
    const items = northDiagram(
      converging(convergence, turn),
      declination,
      { x: 120, y: 245, width: 30, height: 30 },
      plainRuler,
    );
    const drawn = (north: string): number => {
      const [group] = groupsOf(items, `${north} north`);
      const [line] = flat(group?.items ?? []);
      if (line?.kind !== "shape") throw new Error(north);
      return bearingOf(line.shape);
    };
    const turned = (deg: number): number => ((deg + 540) % 360) - 180;
    expect(turned(drawn("magnetic") - drawn("grid"))).toBeCloseTo(angle, 6);
    expect(turned(drawn("magnetic") - drawn("true"))).toBeCloseTo(declination, 6);
    expect(turned(drawn("grid") + turn)).toBeCloseTo(0, 6);
    for (const item of texts(items)) {
      const half = plainRuler.widthMm(item.text, item.face, item.sizeMm) / 2;
      expect(item.at[0] - half).toBeGreaterThan(120 - 0.3);
      expect(item.at[0] + half).toBeLessThan(150 + 0.3);
      expect(item.at[1]).toBeLessThan(275.3);
    }
  });
});

it("norths stand from left to right as they lie", () => {
  expect(northLines(converging(-1.5), 10).map(({ north }) => north)).toEqual(["grid", "true", "magnetic"]);
  expect(northLines(converging(0.75), -4).map(({ north }) => north)).toEqual(["magnetic", "true", "grid"]);
});

describe("lines of magnetic north", () => {
  const centre = frame.centre;
  // The model is held to NOAA's test values elsewhere, convergence to GeoConvert.
  const deg = declinationAt(centre, 0, "2026-06-15").deg;

  it.each([0, 47])("run at the sheet's angle and evenly spaced, on a sheet turned by %d°", (turnDeg) => {
    const sheet = sheetFrame({ centre, scale: 25_000, map: MAP, turnDeg });
    const { items } = magneticLines(sheet, deg, 30, plainRuler);
    const lines = flat(items).flatMap((item) => (item.kind === "shape" && !item.shape.closed ? [item] : []));
    expect(lines.length).toBeGreaterThan(4);
    const angle = deg - toUtm(centre).convergenceDeg - turnDeg;
    const offsets = lines.map(({ shape, stroke }) => {
      expect(bearingOf(shape)).toBeCloseTo(angle, 6);
      expect(stroke?.dashMm?.length).toBe(2);
      const [x, y] = shape.parts[0] as Float64Array as unknown as [number, number];
      return x * Math.cos(angle * DEG) + y * Math.sin(angle * DEG);
    });
    for (const [i, offset] of offsets.entries())
      if (i > 0) expect(offset - (offsets[i - 1] as number)).toBeCloseTo(30, 6);
  });

  it("are refused too close", () => {
    expect(() => magneticLines(frame, deg, 3, plainRuler)).toThrow(/cannot be 3 mm apart/);
  });
});

it("a declination that differs by more than half a degree across the sheet is said, a smaller difference is not", () => {
  expect(declinationAcross(frame, "2026-06-15")).toBe(null);
  // In the Canadian arctic, where isogonic lines crowd.
  const arctic = sheetFrame({ centre: [-95, 76], scale: 250_000, map: MAP });
  expect(declinationAcross(arctic, "2026-06-15")).toMatch(
    /^Declination differs by up to [\d.]+° across this sheet/,
  );
});

it("the printed map's declination rules where it was chosen, and the words say so", () => {
  const figure = sheetDeclination(frame, null, {
    date: "2026-07-02",
    declination: {
      use: "printed",
      beyondModel: false,
      // Done by hand: −20′ + 14 years of 11′ is 2°14′ E.
      printed: { valueDeg: -20 / 60, of: "declination", year: 2012.5, annualChangeDeg: 11 / 60 },
    },
  });
  expect(figure.deg).toBeCloseTo(2.2333, 2);
  const words = northWords(frame, figure, "2026-07-02", null)
    .map(({ text }) => text)
    .join(" ");
  expect(words).toContain("from the map’s margin");
  expect(words).not.toContain("WMM");
  expect(words).not.toContain("±");
});

it("near a magnetic pole the sheet warns", () => {
  const polar = sheetFrame({ centre: [139, 85.5], scale: 50_000, map: MAP });
  const words = northWords(polar, sheetDeclination(polar, null, MODEL), "2026-06-15", null);
  expect(words.some(({ text, face }) => face === "textBold" && /magnetic pole/.test(text))).toBe(true);
});
