import { afterAll, describe, expect, it } from "vitest";
import { CommandLine } from "./support/command.ts";

const legwright = new CommandLine();
afterAll(() => legwright.remove());
const json = (...args: string[]): Record<string, number | boolean | null> =>
  JSON.parse(legwright.says(["scale", ...args, "--format", "json"])) as Record<
    string,
    number | boolean | null
  >;

describe("scale", () => {
  // Arithmetic from the definition of the representative fraction; 1:24 000 as one inch to 2000 feet and the mile to
  // the inch as 1:63 360 are those of USGS maps (USGS Survey Manual 800.2).
  it.each([
    ["1:24000", 24_000, 41.6667, 2000, 2.64],
    ["1 inch = 2000 feet", 24_000, 41.6667, 2000, 2.64],
    ["one inch to the mile", 63_360, 15.7828, 5280, 1],
    ["1:25 000", 25_000, 40, 2083.3333, 2.5344],
    ["1/50000", 50_000, 20, 4166.6667, 1.2672],
  ])("%s", (text, scale, mm, feet, inches) => {
    const found = json(text);
    expect(found["scale"]).toBeCloseTo(scale, 6);
    expect(found["millimetresPerKm"]).toBeCloseTo(mm, 4);
    expect(found["feetPerInch"]).toBeCloseTo(feet, 4);
    expect(found["inchesPerMile"]).toBeCloseTo(inches, 4);
  });

  // Worked by hand: 0.025 × 50 000 = 1250 m; 3.2 in at 2000 ft each = 6400 ft = 1950.72 m; 640 / 24 000 = 26.6667 mm.
  it("turns a ruler's length into the ground's and back", () => {
    expect(json("1:50000", "--ruler", "2.5cm")["groundOfRulerM"]).toBeCloseTo(1250, 9);
    expect(json("1:24000", "--ruler", "3.2 in")["groundOfRulerM"]).toBeCloseTo(1950.72, 9);
    expect(json("1:24000", "--ground", "640m")["rulerOfGroundM"]).toBeCloseTo(0.0266667, 7);
    const text = legwright.says(["scale", "1:24000", "--ruler", "3.2in", "--ground", "640m"]);
    expect(text).toMatch(/Scale +1:24 000\n/);
    expect(text).toMatch(/41\.67 mm are 1 km; 2\.64 in are 1 mile/);
    expect(text).toMatch(/1 mm is 24 m; 1 in is 2000 ft/);
    expect(text).toMatch(/Ruler to ground +81\.28 mm \/ 3\.2 in is 1\.951 km \/ 1\.21 mi\n/);
    expect(text).toMatch(/Ground to ruler +640 m \/ 2100 ft is 26\.67 mm \/ 1\.05 in\n/);
  });

  // Worked by hand: 3 425 000 / 137 = 25 000; 1 km / 42 mm = 23 809.5.
  it("works out the scale of a map from a distance known on the ground", () => {
    expect(json("--ruler", "137mm", "--ground", "3.425km")).toMatchObject({ fromLengths: true });
    expect(json("--ruler", "137mm", "--ground", "3.425km")["scale"]).toBeCloseTo(25_000, 6);
    // Measured with a ruler it is good to four figures at most.
    expect(legwright.says(["scale", "--ruler", "42mm", "--ground", "1km"])).toMatch(/Scale +1:23 810\n/);
  });
});

describe("what scale refuses", () => {
  it.each<[readonly string[], RegExp]>([
    [[], /scale is missing/],
    [["--ruler", "37mm"], /scale is missing/],
    [["1:0"], /no map scale/],
    [["NaN"], /no map scale/],
    [["1:24000", "--ruler", "37"], /no unit/],
    [["1:24000", "--ruler", "0mm"], /more than 0/],
    [["--ruler", "1km", "--ground", "1mm"], /no map scale/],
    [["1:24000", "--ground", "lots"], /not a length/],
  ])("%j", (args, message) => {
    expect(legwright.fails(1, ["scale", ...args])).toMatch(message);
  });
});
