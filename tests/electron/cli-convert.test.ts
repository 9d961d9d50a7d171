import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { inverse } from "../../core/geodesy/geodesic.ts";
import { num, readRows } from "../fixtures/geodesy/read-rows.ts";
import { CommandLine } from "./support/command.ts";

const legwright = new CommandLine();
afterAll(() => legwright.remove());

interface Position {
  readonly lonLat: readonly [number, number];
  readonly notation: string;
  readonly precisionM: number | null;
  readonly reference: string | null;
  readonly written: Readonly<Record<string, string>>;
  readonly utm: Readonly<Record<string, number | string>>;
  readonly british: { readonly reference: string; readonly accuracyM: number } | null;
  readonly grid: Readonly<Record<string, number | string | null>> | null;
  readonly notes: readonly string[];
}
const positions = (args: readonly string[], input = ""): Position[] =>
  (JSON.parse(legwright.says(["convert", ...args, "--format", "json"], input)) as { positions: Position[] })
    .positions;

const rows = readRows("utm.tsv");

describe("convert", () => {
  // GeoConvert of GeographicLib 2.1.2, as the fixture's README says; 60 UTM and 4 UPS rows.
  it("agrees with GeoConvert on coordinates, convergence, scale and references", () => {
    const lines = rows.map((row) => `${row["lat_deg"]} ${row["lon_deg"]}`).join("\n");
    const found = positions([], `${lines}\n`);
    expect(found).toHaveLength(64);
    rows.forEach((row, i) => {
      const { utm, written } = found[i] as Position;
      expect(utm["zone"], row["id"]).toBe(num(row, "zone"));
      expect(utm["hemisphere"], row["id"]).toBe(row["hemisphere"]);
      for (const [member, column, tolerance] of [
        ["eastingM", "easting_m", 0.001],
        ["northingM", "northing_m", 0.001],
        ["convergenceDeg", "convergence_deg", 1e-6],
        ["scale", "point_scale", 1e-9],
      ] as const)
        expect(
          Math.abs(Number(utm[member]) - num(row, column)),
          `${row["id"]} ${member}`,
        ).toBeLessThanOrEqual(tolerance);
      expect(written["mgrs"]?.replaceAll(" ", ""), row["id"]).toBe(row["mgrs_1m"]);
    });
  });

  it.each(["mgrs", "utm", "dd", "dm", "dms"])(
    "writes %s that it reads back to the same place",
    (notation) => {
      const lines = rows.map((row) => `${row["lat_deg"]} ${row["lon_deg"]}`).join("\n");
      const written = legwright.says(["convert", "--to", notation], lines);
      expect(written).not.toMatch(/[\u00a0\u202f]/);
      const back = positions([], written);
      rows.forEach((row, i) => {
        const away = inverse(
          [num(row, "lon_deg"), num(row, "lat_deg")],
          (back[i] as Position).lonLat,
        ).distanceM;
        // Half of the last figure each way: 0.000005° is 0.6 m, 0.0005′ 0.9 m, 0.05″ is 1.6 m, a metre 0.7 m.
        expect(away, `${row["id"]}: ${written.split("\n")[i]}`).toBeLessThan(notation === "dms" ? 2.3 : 1.4);
      });
      expect(back.every((one) => one.notation === notation)).toBe(true);
    },
  );

  it("writes all notations, convergence, scale and grid for a person", () => {
    const text = legwright.says(["convert", "47.3769 N, 8.5417 E"]);
    expect(text).toMatch(/MGRS, USNG +32T MT 65403 47150\n/);
    expect(text).toMatch(/UTM, UPS +32 north 465403 5247151\n/);
    expect(text).toMatch(/Degrees +47\.37690° N 8\.54170° E\n/);
    expect(text).toMatch(/and minutes +47° 22\.614′ N 8° 32\.502′ E\n/);
    expect(text).toMatch(/and seconds +47° 22′ 36\.8″ N 8° 32′ 30\.1″ E\n/);
    expect(text).toMatch(/Grid +UTM zone 32 on WGS 84/);
    expect(text).toMatch(/Convergence +0\.337° W/);
    expect(text).toMatch(/Scale factor +0\.999615\n/);
    expect(text).not.toMatch(/British/);
  });

  it("takes a position in the south for no option", () => {
    expect(legwright.says(["convert", "-33.8688 151.2093", "--to", "mgrs"])).toBe("56H LH 34368 50948\n");
    expect(legwright.says(["convert", "--to", "dd", "--", "-33.8688, 151.2093"])).toBe(
      "33.86880° S 151.20930° E\n",
    );
  });

  it("writes a reference no finer than the one it read, unless asked to", () => {
    expect(legwright.says(["convert", "32T MT 654 471", "--to", "mgrs"])).toBe("32T MT 654 471\n");
    expect(legwright.says(["convert", "32TMT654471"])).toMatch(/Read as +32T MT 654 471: a square of 100 m/);
    expect(legwright.says(["convert", "32T MT 65403 47150", "--to", "mgrs", "--precision", "1000"])).toBe(
      "32T MT 65 47\n",
    );
  });

  it("completes a partial reference from a place nearby", () => {
    expect(positions(["MT 65403 47150", "6540 4715", "--near", "47.4 N 8.5 E"])).toMatchObject([
      { reference: "32T MT 65403 47150", precisionM: 1 },
      { reference: "32T MT 6540 4715", precisionM: 10 },
    ]);
  });
});

describe("convert on old datums and other grids", () => {
  const grids = readRows("grids.tsv");
  const of = (grid: string): Record<string, string>[] => grids.filter((row) => row["grid"] === grid);
  const lines = (found: Record<string, string>[]): string =>
    found.map((row) => `${row["lat_deg"]} ${row["lon_deg"]}`).join("\n");

  // gdaltransform of GDAL with PROJ 9.1 (make-grids.sh beside the fixture).
  it.each([
    ["nad27-13", "nad27", 10],
    ["nad27-13", "nad27:13", 10],
    ["nad27-5-alaska", "nad27-alaska:5", 12],
    ["nad27-11-canada", "nad27-canada", 20],
    ["british", "british", 3.5],
  ])("%s by %s agrees with GDAL, and says how good it is", (fixture, name, accuracyM) => {
    const wanted = of(fixture);
    const found = positions(["--grid", name], lines(wanted));
    expect(found).toHaveLength(wanted.length);
    wanted.forEach((row, i) => {
      const { grid, notes } = found[i] as Position;
      expect(Math.abs(Number(grid?.["eastingM"]) - num(row, "easting_m"))).toBeLessThan(0.001);
      expect(Math.abs(Number(grid?.["northingM"]) - num(row, "northing_m"))).toBeLessThan(0.001);
      expect(grid).toMatchObject({ accuracyM });
      expect(notes).toEqual([]);
    });
  });

  it("reads easting and northing in a grid back to the place", () => {
    const wanted = of("nad27-13");
    const typed = wanted.map((row) => `${row["easting_m"]} ${row["northing_m"]}`).join("\n");
    const found = positions(["--from", "grid", "--grid", "nad27:13"], typed);
    wanted.forEach((row, i) => {
      const away = inverse(
        [num(row, "lon_deg"), num(row, "lat_deg")],
        (found[i] as Position).lonLat,
      ).distanceM;
      expect(away).toBeLessThan(0.001);
    });
  });

  // The same grid's coordinates in US survey feet, as GDAL has them.
  it("counts in the grid's own unit", () => {
    const [row] = of("california-3-feet") as [Record<string, string>];
    const definition =
      "+proj=lcc +lat_0=36.5 +lon_0=-120.5 +lat_1=38.4333333333333 +lat_2=37.0666666666667 +x_0=2000000.0001016 +y_0=500000.0001016 +datum=NAD83 +units=us-ft";
    const feet = `${num(row, "easting_m").toFixed(0)} ${num(row, "northing_m").toFixed(0)}`;
    expect(legwright.says(["convert", lines([row]), "--grid", definition, "--to", "grid"])).toBe(`${feet}\n`);
    const [back] = positions(["--from", "grid", "--grid", definition, feet]);
    expect(
      inverse([num(row, "lon_deg"), num(row, "lat_deg")], (back as Position).lonLat).distanceM,
    ).toBeLessThan(0.3);
  });

  // Ordnance Survey, A Guide to Coordinate Systems in Great Britain: the worked example is TG 51409 13177 (from
  // memory); on WGS 84 by the guide's seven constants 52.657570 N 1.716074 E is TG 51413 13131 (GDAL, as above).
  it("reads and writes British references", () => {
    const [guide] = positions(["--from", "british", "TG 51409 13177"]);
    expect(guide).toMatchObject({
      notation: "british",
      precisionM: 1,
      british: { reference: "TG 51409 13177", accuracyM: 3.5 },
    });
    const ran = legwright.run(["convert", "52.657570 N 1.716074 E", "--to", "british"]);
    expect(ran).toMatchObject({ code: 0, stdout: "TG 51413 13131\n" });
    expect(ran.stderr).toMatch(/^legwright: note: OSGB36.*3\.5 m.*Ordnance Survey.*\n$/);
    expect(legwright.says(["convert", "--from", "british", "TG514131"])).toMatch(/a square of 100 m/);
  });

  it("takes a grid from the settings by its name", () => {
    const definition = "+proj=utm +zone=32 +datum=WGS84";
    mkdirSync(join(legwright.folder, "settings"), { recursive: true });
    writeFileSync(
      join(legwright.folder, "settings", "settings.json"),
      JSON.stringify({ grids: [{ name: "My sheets", definition }] }),
    );
    expect(legwright.says(["convert", "47.3769 N 8.5417 E", "--grid", "My sheets", "--to", "grid"])).toBe(
      "465403 5247151\n",
    );
    expect(legwright.fails(1, ["convert", "47 N 8 E", "--grid", "Others"])).toMatch(
      /no grid called “Others”/,
    );
  });

  it("warns where a datum's constants were not made for", () => {
    const text = legwright.says(["convert", "47.3769 N 8.5417 E", "--grid", "nad27"]);
    expect(text).toMatch(/Note +The place lies outside the area \(contiguous United States\)/);
  });
});

describe("what convert refuses", () => {
  it.each<[readonly string[], RegExp]>([
    [["91 0"], /Latitude 91° does not exist/],
    [["0 N 181 E"], /Longitude 181° is outside/],
    [["61 north 500000 5000000"], /UTM zone 61 does not exist/],
    [["61T MT 65403 47150"], /UTM zone 61 does not exist/],
    [["48Q UJ 1234 567"], /4 figures and the northing 3/],
    [["48Q UJ 1234567"], /7 figures cannot be halved/],
    [["32S 500000 4000000"], /southern hemisphere or the band/],
    [["NaN NaN"], /“NaN” is not understood/],
    [["Infinity 0"], /“Infinity” is not understood/],
    [[""], /nothing to read/],
    [["12, 34, 56, 78"], /./],
    [["TG 5140 1317"], /British grid or an MGRS reference without its zone/],
    [["MT 65403 47150"], /The zone of square MT is missing/],
    [["--from", "british", "ZZ 1 1"], /no square ZZ/],
    [["--from", "british", "47 N 8 E"], /not a reference of the British grid/],
    [["--from", "grid", "465403 5247151"], /Name it with --grid/],
    [["--from", "grid", "--grid", "nad27", "465403 5247151"], /zone is missing/],
    [["--from", "grid", "--grid", "nad27:13", "32T MT 6 4"], /not an easting and a northing/],
    [["47 N 8 E", "--grid", "nad27:61"], /UTM zone 61 does not exist/],
    [["47 N 8 E", "--grid", "british:3"], /has no zones/],
    [["89 N 8 E", "--grid", "nad27"], /no UTM zone at the poles/],
    [["47 N 8 E", "--grid", "+proj=nowhere"], /definition cannot be read/],
    [["47 N 8 E", "--grid", "+proj=utm +zone=32 +ellps=intl"], /does not say how its datum lies/],
    [["47 N 8 E", "--to", "grid"], /Name it with --grid/],
    [["47 N 8 E", "--to", "british"], /off the British grid/],
    [["47 N 8 E", "--near", "91 0"], /Latitude 91°/],
    [["47 N 8 E", "91 0"], /Latitude 91°.*position 2/],
  ])("%j", (args, message) => {
    expect(legwright.fails(1, ["convert", ...args])).toMatch(message);
  });

  it("a line of many, which it names, and writes none of them", () => {
    expect(legwright.fails(1, ["convert"], "47 N 8 E\n\n48Q UJ 1234 567\n")).toMatch(
      /line 3.*48Q UJ 1234 567/,
    );
  });

  it.each<[readonly string[], RegExp]>([
    [["47 N 8 E", "--to", "nothing"], /nothing/],
    [["47 N 8 E", "--precision", "3"], /precision.*3/],
  ])("%j as a wrong command", (args, message) => {
    expect(legwright.fails(2, ["convert", ...args])).toMatch(message);
  });
});
