import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, it } from "vitest";
import { parseWalk } from "../../core/walk/walk-file.ts";
import { CommandLine } from "./support/command.ts";

const legwright = new CommandLine();
afterAll(() => legwright.remove());

const PRACTICE = fileURLToPath(new URL("../../sample-maps/uldermoor-practice.walk.geojson", import.meta.url));
const MANY = fileURLToPath(new URL("../fixtures/exchange/gdal.gpx", import.meta.url));
const ROUTE = fileURLToPath(new URL("../fixtures/exchange/route.gpx", import.meta.url));
const NAD27 = [-105.4074355, 40.2483591] as const;
const made = (name: string): string => join(legwright.folder, name);
const walkIn = (path: string) => parseWalk(readFileSync(path, "utf8"), path, "2026-05-16").walk;

describe("export and import", () => {
  it.each(["gpx", "kmz", "csv"])("carry a walk through %s", (format) => {
    legwright.says(["export", PRACTICE, "--out", `w.${format}`]);
    legwright.says(["import", `w.${format}`, "--out", "back.walk.geojson"]);
    const [walk, back] = [walkIn(PRACTICE), walkIn(made("back.walk.geojson"))];
    const carried = (one: typeof walk) =>
      one.points.map(({ lonLat, name, note }) => ({ lonLat, name, note }));
    expect(carried(back)).toEqual(carried(walk));
    expect([back.title, back.notes]).toEqual(format === "csv" ? ["w", ""] : [walk.title, walk.notes]);
  });

  it("carry the ground along the legs, and heights, from the map", () => {
    const map = fileURLToPath(new URL("../../sample-maps/uldermoor.pmtiles", import.meta.url));
    legwright.says([
      "export",
      PRACTICE,
      "--out",
      "g.gpx",
      "--track",
      "--heights",
      "--no-notes",
      "--map",
      map,
    ]);
    const gpx = readFileSync(made("g.gpx"), "utf8");
    const heights = [...gpx.matchAll(/<trkpt [^>]*><ele>([\d.]+)<\/ele>/g)].map(([, ele]) => Number(ele));
    const [lowest, highest] = [Math.min(...heights), Math.max(...heights)];
    // The demo map's own contours say that the walk runs between some 220 m and 410 m.
    expect([heights.length > 100, lowest > 200, highest < 450]).toEqual([true, true, true]);
    expect(gpx).toMatch(/<rtept [^>]*><ele>\d+\.\d<\/ele><name>Bunkhouse, start<\/name><\/rtept>/);
    expect(legwright.fails(1, ["export", PRACTICE, "--out", "g.csv", "--track"])).toMatch(/no track/);
    expect(legwright.fails(1, ["export", PRACTICE, "--out", "g.gpx", "--map", map])).toMatch(/--track/);
  });

  it("read a file as it is said to be", () => {
    writeFileSync(made("feet.csv"), "name,e,n\nBru,465397,4455194\n");
    legwright.says(["import", "feet.csv", "--grid", "nad27:13", "--out", "nad27.walk.geojson"]);
    // `echo 465397 4455194 | cs2cs -f %.7f +proj=utm +zone=13 +ellps=clrk66 +towgs84=-8,160,176 +to +proj=longlat +datum=WGS84` of PROJ 9.1.1.
    const [lon, lat] = walkIn(made("nad27.walk.geojson")).points[0]!.lonLat;
    expect([lon, lat]).toEqual([expect.closeTo(NAD27[0], 6), expect.closeTo(NAD27[1], 6)]);
    writeFileSync(made("turned.csv"), "lat,lon\n8.5,47.3\n");
    legwright.says(["import", "turned.csv", "--exchanged", "--out", "turned.walk.geojson"]);
    expect(walkIn(made("turned.walk.geojson")).points[0]!.lonLat).toEqual([8.5, 47.3]);
    expect(legwright.fails(1, ["import", "turned.csv", "--datum", "moon"])).toMatch(/no datum/);
    writeFileSync(made("own.csv"), "Punkt;Dybde;Nord;Ost\nBru;3;47,3;8,5\n");
    const dialect = ["--dialect", "semicolon", "decimal-comma", "header", "columns=name,-,lat,lon"];
    legwright.says(["import", "own.csv", "--out", "own.walk.geojson", ...dialect]);
    expect(walkIn(made("own.walk.geojson")).points).toMatchObject([{ name: "Bru", lonLat: [8.5, 47.3] }]);
    expect(legwright.fails(1, ["import", "own.csv", "--dialect", "columns=depth"])).toMatch(/“depth”/);
  });

  it("write the dialect asked for", () => {
    const words = ["semicolon", "decimal-comma", "lf", "bom", "headers=Navn,Lat,Lon,Notat"];
    legwright.says(["export", PRACTICE, "--out", "w.csv", "--dialect", ...words]);
    expect(readFileSync(made("w.csv"), "utf8")).toMatch(
      /^\ufeffNavn;Lat;Lon;Notat\nBunkhouse, start;46,3416879;-133,1922526;/,
    );
    expect(legwright.fails(1, ["export", PRACTICE, "--out", "w.csv", "--dialect", "colon"])).toMatch(/colon/);
    expect(legwright.fails(1, ["export", PRACTICE, "--out", "w.gpx", "--dialect", "lf"])).toMatch(/CSV/);
    expect(legwright.fails(1, ["export", PRACTICE, "--out", "w.walk.geojson"])).toMatch(/\.gpx/);
  });

  it("list what a file holds, and take what is picked", () => {
    expect(legwright.says(["import", MANY]).split("\n").slice(0, 3)).toEqual([
      expect.stringMatching(/^1 {2}route: route name; points: 3; /),
      expect.stringMatching(/^2 {2}track: track name; points: 4; /),
      expect.stringMatching(/^3 {2}points: /),
    ]);
    expect(legwright.fails(1, ["import", MANY, "--out", "m.walk.geojson"])).toMatch(/--pick/);
    legwright.says(["import", MANY, "--out", "m.walk.geojson", "--pick", "2"]);
    expect(walkIn(made("m.walk.geojson"))).toMatchObject({ title: "track name", points: { length: 4 } });
    expect(legwright.fails(1, ["import", MANY, "--out", "m.walk.geojson", "--pick", "9"])).toMatch(
      /no number 9/,
    );
  });

  it("thin as far as is asked, and say so", () => {
    const { code, stderr } = legwright.run([
      "import",
      ROUTE,
      "--out",
      "t.walk.geojson",
      "--tolerance",
      "50m",
    ]);
    expect([code, stderr]).toEqual([
      0,
      expect.stringMatching(/Of 55 positions (\d+) remain, within 50 m; .* [\d.]+ m beside/),
    ]);
    const kept = Number(/positions (\d+) remain/.exec(stderr)?.[1]);
    expect(walkIn(made("t.walk.geojson")).points).toHaveLength(kept);
  });

  it("leave what was there when a file is broken", () => {
    writeFileSync(made("bad.gpx"), '<gpx><wpt lat="1" lon="x"/></gpx>');
    writeFileSync(made("kept.walk.geojson"), "kept");
    expect(legwright.fails(1, ["import", "bad.gpx", "--out", "kept.walk.geojson"])).toMatch(
      /bad\.gpx, line 1/,
    );
    expect(readFileSync(made("kept.walk.geojson"), "utf8")).toBe("kept");
  });
});
