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
