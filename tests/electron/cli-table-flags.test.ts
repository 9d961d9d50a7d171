/** Options of `table` that go before what the walk says of itself. */
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { CommandLine } from "./support/command.ts";

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const LINE = at("../fixtures/cli/line.geojson");
const legwright = new CommandLine();
const DAY = ["--date", "2026-05-16"];
beforeAll(() => {
  legwright.says(["make-map", "hills.pmtiles", "--elevation", at("../fixtures/cli/hills.tif")]);
}, 120_000);
afterAll(() => legwright.remove());

interface Leg {
  readonly bearingTrueDeg: number;
  readonly bearingMagneticDeg: number;
  readonly distanceM: number;
  readonly climbM: number;
  readonly descentM: number;
  readonly paces: number;
  readonly timeS: number;
  readonly arrival: string | null;
}
interface Table {
  readonly declination: { readonly deg: number; readonly from: string; readonly beyondModel: boolean };
  readonly legs: readonly Leg[];
}
const table = (...args: string[]): Table =>
  JSON.parse(
    legwright.says(["table", LINE, "--map", "hills.pmtiles", ...DAY, ...args, "--format", "json"]),
  ) as Table;

describe("options of table", () => {
  // GeodSolve -i (GeographicLib 2.1.2): the legs are 1239.868, 1332.990 and 1929.397 m; 70 paces for 100 m of them.
  it("count another pace", () => {
    expect(table("--pace", "70").legs.map(({ paces }) => paces)).toEqual([868, 933, 1351]);
  });

  // The rules by hand from the leg's own distance, climb and descent. Naismith in metric form: 5 km an hour and an hour
  // for 600 m of climb. DIN 33466: 4 km, 300 m up, 500 m down an hour, the larger of both times and half the smaller.
  it.each<[string, (leg: Leg) => number]>([
    ["naismith", ({ distanceM, climbM }) => (distanceM / 5000 + climbM / 600) * 3600],
    [
      "din33466",
      ({ distanceM, climbM, descentM }) => {
        const [flat, upright] = [distanceM / 4000, climbM / 300 + descentM / 500];
        return (Math.max(flat, upright) + Math.min(flat, upright) / 2) * 3600;
      },
    ],
  ])("work out time by %s", (rule, seconds) => {
    for (const leg of table("--time", rule).legs) {
      expect(leg.climbM + leg.descentM).toBeGreaterThan(50);
      expect(Math.abs(leg.timeS - seconds(leg))).toBeLessThan(1);
    }
  });

  // Johannesburg keeps two hours before UTC all year.
  it("tell the hour of arrival from that of setting out", () => {
    let now = Date.parse("2026-05-16T08:30:00+02:00");
    for (const { timeS, arrival } of table("--start", "08:30", "--time-zone", "Africa/Johannesburg").legs) {
      now += timeS * 1000;
      expect(arrival).toMatch(/^2026-05-16T\d\d:\d\d:\d\d\+02:00$/);
      expect(Math.abs(Date.parse(arrival ?? "") - now)).toBeLessThan(1500);
    }
    expect(table().legs.map(({ arrival }) => arrival)).toEqual([null, null, null]);
  });

  // magnetic = true − declination.
  it("let the map's declination rule", () => {
    const { declination, legs } = table("--printed", "27°30' W", "--year", "2026", "--change", "0");
    expect(declination).toMatchObject({ from: "printed", deg: -27.5 });
    for (const { bearingTrueDeg, bearingMagneticDeg } of legs)
      expect(bearingMagneticDeg).toBeCloseTo((bearingTrueDeg + 27.5) % 360, 4);
  });

  it("go beyond the model's years when told to", () => {
    const beyond = ["--date", "2031-05-16"];
    expect(table(...beyond).declination.deg).toBeNull();
    expect(table(...beyond, "--beyond-model").declination).toMatchObject({ beyondModel: true });
    expect(table(...beyond, "--beyond-model").declination.deg).toBeLessThan(-25);
  });

  it("put another north first, and lengths in feet", () => {
    const shown = (...args: string[]): string =>
      legwright.says(["table", LINE, "--map", "hills.pmtiles", ...DAY, ...args]);
    expect(shown()).toMatch(/^Leg +Magnetic bearing/m);
    expect(shown()).toMatch(/^1 {2}A → B .* 1240 m/m);
    expect(shown("--north", "grid")).toMatch(/^Leg +Grid bearing/m);
    // 1239.868 m are 4067.8 ft.
    expect(shown("--length", "imperial")).toMatch(/^1 {2}A → B .* 4068 ft/m);
  });
});

describe("the compass of a table", () => {
  const bearings = (...args: string[]): (string | undefined)[] => {
    const text = legwright.says(["table", LINE, ...DAY, "--north", "true", ...args]);
    return [...text.matchAll(/^\d {2}\w → \w +(\S+(?: \d+° [EW])?)/gm)].map(([, bearing]) => bearing);
  };

  // GeodSolve: true bearings 63.4319°, 146.3203° and 106.7111°. By hand: rounded to the marks; from north or south
  // towards east; times 6400 / 360 = 1127.7, 2601.3 and 1897.1 mils.
  it.each<[readonly string[], readonly string[]]>([
    [[], ["063°", "146°", "107°"]],
    [
      ["--round", "2"],
      ["064°", "146°", "106°"],
    ],
    [
      ["--round", "5"],
      ["065°", "145°", "105°"],
    ],
    [
      ["--unit", "quadrant"],
      ["N 63° E", "S 34° E", "S 73° E"],
    ],
    [
      ["--unit", "mils"],
      ["1130", "2600", "1900"],
    ],
    [
      ["--unit", "mils", "--round", "50"],
      ["1150", "2600", "1900"],
    ],
  ])("%j", (args, shown) => {
    expect(bearings(...args)).toEqual(shown);
  });

  it("in mils says so over its columns", () => {
    const text = legwright.says(["table", LINE, ...DAY, "--north", "true", "--unit", "mils"]);
    expect(/^Leg.*$/m.exec(text)?.[0]).toMatch(/^Leg +True mils +Magnetic mils, to set/);
  });

  it("that is adjusted to the declination takes true bearings", () => {
    const text = (...args: string[]): string =>
      legwright.says(["table", LINE, ...DAY, "--north", "true", ...args]);
    // The way back is dialled as well: 63.43° + 180° is 243°.
    expect(text("--adjustable")).toMatch(/^1 {2}A → B +063° +243°/m);
    expect(text()).not.toMatch(/^1 {2}A → B +063° +243°/m);
  });
});

describe("explanations", () => {
  it("say of each figure of each leg how it was worked out", () => {
    const args = ["table", LINE, "--map", "hills.pmtiles", ...DAY];
    const text = legwright.says([...args, "--explain"]);
    expect(text.startsWith(legwright.says(args))).toBe(true);
    expect(text).toMatch(/\nHow this was worked out\n\n1 {2}A → B\n/);
    expect(text.match(/^ {2}Bearing: \S/gm)).toHaveLength(3);
    expect(text.match(/^ {2}Time: .*Naismith/gm)).toHaveLength(3);
    expect(text.match(/^ {2}Declination: .*WMM2025/gm)).toHaveLength(3);
    expect(text.match(/^ {2}Daylight: /gm)).toHaveLength(1);
    expect(text).not.toMatch(/[\u00a0\u202f]|undefined|NaN/);
  });

  it("stand beside the figures for programs", () => {
    const { legs } = table("--explain") as unknown as { legs: { how: Record<string, string[]> }[] };
    expect(legs).toHaveLength(3);
    for (const { how } of legs) {
      expect(Object.keys(how)).toContain("climb");
      for (const sentences of Object.values(how)) expect(sentences.length).toBeGreaterThan(0);
    }
  });

  it("have no room in other formats", () => {
    expect(legwright.fails(1, ["table", LINE, "--explain", "--format", "csv"])).toMatch(
      /no room for explanations.*--format text or json/,
    );
    expect(legwright.fails(1, ["table", LINE, "--explain", "--out", "t.pdf"])).toMatch(/as pdf/);
  });
});

describe("the description of each leg", () => {
  const args = ["table", LINE, "--map", "hills.pmtiles", ...DAY];
  it("stands under its figures when asked for, and is in the JSON anyhow", () => {
    const legs = (table() as unknown as { legs: { onTheWay: { words: string }[] }[] }).legs;
    const sentences = legs.flatMap(({ onTheWay }) => onTheWay.map(({ words }) => words));
    expect(sentences.length).toBeGreaterThanOrEqual(3 * 2);
    const text = legwright.says([...args, "--describe"]);
    const without = legwright.says(args);
    for (const sentence of sentences) {
      expect(text).toContain(sentence);
      expect(without).not.toContain(sentence);
    }
    const html = legwright.says([...args, "--describe", "--format", "html"]);
    expect(html.match(/<ol class="way">/g)).toHaveLength(3);
  });

  it("needs no asking for in a spreadsheet", () => {
    expect(legwright.fails(1, [...args, "--describe", "--format", "csv"])).toMatch(/a column of its own/);
    expect(legwright.says([...args, "--format", "csv"])).toMatch(/,onTheWay,/);
  });
});

describe("what table refuses of them", () => {
  it.each<[readonly string[], RegExp]>([
    [["--pace", "0"], /0 paces per 100 m cannot be/],
    [["--pace", "NaN"], /no pace count/],
    [["--start", "8.30"], /not a time of day.*--start/],
    [["--time-zone", "Nowhere"], /not a time zone/],
    [["--date", "1850-02-30"], /not a day/],
    [["--printed", "12 E"], /year .* missing/],
    [["--round", "3"], /no spacing of the marks/],
    [["--unit", "mils", "--round", "7"], /in mils/],
  ])("%j", (args, message) => {
    // Said before the walk is looked for.
    expect(legwright.fails(1, ["table", "gone.geojson", ...args])).toMatch(message);
  });

  it.each<[readonly string[], RegExp]>([
    [["--time", "guess"], /guess/],
    [["--north", "south"], /south/],
    [["--unit", "gon"], /gon/],
    [["--length", "cubits"], /cubits/],
  ])("%j as a wrong command", (args, message) => {
    expect(legwright.fails(2, ["table", LINE, ...args])).toMatch(message);
  });
});
