import { fileURLToPath } from "node:url";
import geodesicLibrary from "geographiclib-geodesic";
import { afterAll, describe, expect, it } from "vitest";
import { CommandLine } from "./support/command.ts";

const legwright = new CommandLine();
afterAll(() => legwright.remove());

interface Report {
  readonly fix: {
    readonly at: readonly [number, number];
    readonly chance: number;
    readonly warnings: readonly { readonly code: string; readonly words: string }[];
  };
  readonly cautions: readonly string[];
}

/**
 * Source: the shared collection of check values, north-conversion.json, "geometry_examples": grid plane, exact arctangents, laid
 * into UTM zone 16. A grid–magnetic angle of 9°, own place 603000 4200000.
 */
const OWN = "16 north 603000 4200000";
const TO_KNOWN = [
  "332.565051 magnetic to 16 north 602000 4203000 as A",
  "54.434949 magnetic to 16 north 605000 4201000 as B",
  "197.565051 magnetic to 16 north 602000 4198000 as C",
].flatMap((bearing) => ["--bearing", bearing]);
const MARGIN = ["--date", "2026-01-01", "--printed-gm", "9 E", "--year", "2026"];

const utm = ([lon, lat]: readonly [number, number]): readonly [number, number] => {
  const said = legwright.says(["convert", `${lat} ${lon}`, "--to", "utm"]);
  const [, e = "", n = ""] = /(\d{6})\D+(\d{7})/.exec(said.trim()) ?? [];
  return [Number(e), Number(n)];
};

describe("fix resect", () => {
  it("gives the handbook's place from three magnetic bearings", () => {
    const report = JSON.parse(
      legwright.says(["fix", "resect", ...TO_KNOWN, ...MARGIN, "--format", "json"]),
    ) as Report;
    expect(utm(report.fix.at)).toEqual([603000, 4200000]);
    expect(report.fix.chance).toBeGreaterThan(0.99);
    expect(report.fix.warnings).toEqual([]);
    expect(report.cautions.length).toBeGreaterThan(2);
  });

  it("says in plain text where, how surely, and what is wrong", () => {
    const text = legwright.says(["fix", "resect", ...TO_KNOWN.slice(0, 4), ...MARGIN]);
    expect(text).toMatch(/^Place {17}37\.94/m);
    expect(text).toMatch(/^Known to {14}95 times in 100 within \d+ m along/m);
    expect(text).toMatch(/^Warning {15}Two bearings always meet somewhere/m);
    expect(text).toMatch(/^Caution {15}/m);
  });

  it("refuses what cannot be, in one line that says what to do", () => {
    expect(legwright.fails(1, ["fix", "resect", ...TO_KNOWN.slice(0, 2)])).toMatch(/2 to 50 bearings, not 1/);
    expect(
      legwright.fails(1, [
        "fix",
        "resect",
        "--bearing",
        "10 true from 47 N 8 E",
        "--bearing",
        "90 true to 47 N 8.1 E",
      ]),
    ).toMatch(/run to the known points/);
    expect(
      legwright.fails(1, [
        "fix",
        "resect",
        "--bearing",
        "10 to 47 N 8 E",
        "--bearing",
        "90 true to 47 N 8.1 E",
      ]),
    ).toMatch(/with magnetic, grid or true/);
    expect(legwright.fails(2, ["fix", "resect"])).toMatch(/--bearing/);
  });
});

it("fix intersect gives the handbook's far point", () => {
  const bearings = [`18.434949 grid from ${OWN}`, "333.434949 grid from 16 north 605000 4201000"];
  const report = JSON.parse(
    legwright.says(["fix", "intersect", ...bearings.flatMap((b) => ["--bearing", b]), "--format", "json"]),
  ) as Report;
  expect(utm(report.fix.at)).toEqual([604000, 4203000]);
});

it("fix reckon follows bearings and paces", () => {
  // Plane: 650 paces of 65 to 100 m are 1000 m east of the grid, then 500 m north; the grid's scale is 0.9997 there.
  const text = legwright.says([
    "fix",
    "reckon",
    "--from",
    OWN,
    "--leg",
    "90 grid 650 paces",
    "--leg",
    "0 grid 500m",
  ]);
  const [, lat = "", lon = ""] = /Leg 2, 500 m +([\d.]+)° N ([\d.]+)° W/.exec(text) ?? [];
  const [e, n] = utm([-Number(lon), Number(lat)]);
  expect(Math.abs(e - 604000)).toBeLessThan(2);
  expect(Math.abs(n - 4200500)).toBeLessThan(2);
  expect(text).toMatch(/1\.50 km walked; 95 times in 100 within \d+ m along/);
  expect(legwright.fails(1, ["fix", "reckon", "--from", OWN, "--leg", "90 650 paces"])).toMatch(
    /is not a leg/,
  );
});

/** The invented demo map; bearings back to the points by GeographicLib itself. */
describe("on the demo map", () => {
  const MAP = ["--map", fileURLToPath(new URL("../../sample-maps/uldermoor.pmtiles", import.meta.url))];
  const KNOTT = [-133.1878242, 46.3305435] as const;
  const TO_KNOTT = `${KNOTT[1]} ${KNOTT[0]}`;
  const wgs84 = geodesicLibrary.Geodesic.WGS84;
  interface Told {
    readonly places: readonly {
      readonly at: readonly [number, number];
      readonly kind: string;
      readonly probability: number;
      readonly sight?: { readonly residualDeg: number };
      readonly onward?: {
        readonly bearingTrueDeg: number;
        readonly bearingMagneticDeg: number;
        readonly distanceM: number;
      };
    }[];
    readonly cautions: readonly string[];
  }
  const told = (...args: string[]): Told =>
    JSON.parse(legwright.says(["fix", ...args, ...MAP, "--date", "2027-05-16", "--format", "json"])) as Told;

  it("fix on-line finds where a path meets a bearing", () => {
    const { places, cautions } = told(
      "on-line",
      "--around",
      "46.3338599 -133.1946257",
      "--within",
      "1km",
      "--at",
      "path",
      "--bearing",
      `60 true to ${TO_KNOTT} as Lowder Knott`,
    );
    const crossings = places.filter(({ sight }) => Math.abs(sight?.residualDeg ?? 99) < 0.05);
    expect(crossings.length).toBeGreaterThan(0);
    for (const { at } of crossings)
      expect(wgs84.Inverse(at[1], at[0], KNOTT[1], KNOTT[0]).azi1).toBeCloseTo(60, 0);
    expect(places.reduce((sum, { probability }) => sum + probability, 0)).toBeGreaterThan(0.9);
    expect(cautions[0]).toMatch(/not a real place/);
  });

  it("fix back-on-track tells likely places and the way on, magnetic with the declination of the day", () => {
    const { places } = told(
      "back-on-track",
      "--from",
      "46.3416879 -133.1922526",
      "--leg",
      "190 true 570 paces",
      "--at",
      "path",
      "--next",
      TO_KNOTT,
    );
    expect(places.length).toBeGreaterThan(0);
    const { model } = JSON.parse(
      legwright.says(["declination", "46.334 -133.194", "--date", "2027-05-16", "--format", "json"]),
    ) as { readonly model: { readonly deg: number } };
    for (const { at, onward, kind } of places) {
      expect(kind).toBe("path");
      const { azi1, s12 } = wgs84.Inverse(at[1], at[0], KNOTT[1], KNOTT[0]);
      expect(onward?.distanceM).toBeCloseTo(s12 as number, 3);
      expect(onward?.bearingTrueDeg).toBeCloseTo(azi1 as number, 6);
      expect((azi1 as number) - (onward?.bearingMagneticDeg ?? 0)).toBeCloseTo(model.deg, 2);
    }
  });

  it("what is no line is refused with those there are", () => {
    expect(
      legwright.fails(1, [
        "fix",
        "on-line",
        ...MAP,
        "--around",
        TO_KNOTT,
        "--at",
        "peak",
        "--elevation",
        "400m",
      ]),
    ).toMatch(/“peak” is no line to stand at\. Name one of stream/);
  });
});
