/** The command line as a person runs it: a process, a real elevation model, and what is wrong with what they give it. */
import { execFileSync } from "node:child_process";
import {
  copyFileSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { pdfLines, readPdfPages } from "../support/pdf-reader.ts";
import { CommandLine, type Ran } from "./support/command.ts";

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const HILLS = at("../fixtures/cli/hills.tif");
const NO_CRS = at("../fixtures/cli/no-crs.tif");
const LINE = at("../fixtures/cli/line.geojson");

const commandLine = new CommandLine();
const { folder } = commandLine;
beforeAll(() => {
  const made = legwright(
    "make-map",
    "hills.pmtiles",
    "--elevation",
    HILLS,
    "--interval",
    "20m",
    "--title",
    "Hills",
    "--source",
    "SRTM",
    "--date",
    "2000",
    "--attribution",
    "Public domain",
  );
  expect(made.stderr + made.stdout).toMatch(/Drawing contours/);
  expect(made.code).toBe(0);
}, 120_000);
afterAll(() => commandLine.remove());

const legwright = (...args: string[]): Ran => commandLine.run(args);
const fails = (code: number, ...args: string[]): string => commandLine.fails(code, args);

interface Table {
  readonly walk: {
    readonly title: string;
    readonly date: string;
    readonly points: { readonly elevationM: number | null }[];
  };
  readonly map: { readonly title: string; readonly elevationFrom: string | null } | null;
  readonly declination: { readonly deg: number };
  readonly legs: {
    readonly bearingTrueDeg: number;
    readonly distanceM: number;
    readonly climbM: number | null;
    readonly crossings: { kind: string }[];
  }[];
  readonly notes?: string[];
}
const table = (...args: string[]): Table => {
  const ran = legwright("table", ...args, "--format", "json");
  expect(ran.code, ran.stderr).toBe(0);
  return JSON.parse(ran.stdout) as Table;
};

describe("table", () => {
  // GeodSolve -i -p 6 (GeographicLib 2.1.2): azimuth at the start, distance.
  const GEODSOLVE = [
    [63.4318924013, 1239.86803],
    [146.32034756328, 1332.989974],
    [106.71111755648, 1929.396966],
  ] as const;
  // gdalwarp -ot Float32 -r bilinear -ts 1 1 -te about each point of line.geojson (GDAL 3.6.2).
  const GDAL_HEIGHTS = [1095.10607910156, 1207.61755371094, 705.634887695312, 609.391357421875];

  it("agrees with GeographicLib on bearings and distances, and with GDAL on heights", () => {
    const { legs, walk, map } = table(LINE, "--map", "hills.pmtiles");
    legs.forEach((leg, i) => {
      expect(Math.abs(leg.bearingTrueDeg - (GEODSOLVE[i]?.[0] ?? 0)), `leg ${i + 1}`).toBeLessThan(0.0001);
      expect(Math.abs(leg.distanceM - (GEODSOLVE[i]?.[1] ?? 0)), `leg ${i + 1}`).toBeLessThan(0.001);
    });
    expect(legs).toHaveLength(3);
    walk.points.forEach((point, i) => {
      expect(Math.abs((point.elevationM ?? 0) - (GDAL_HEIGHTS[i] ?? 0)), `point ${i}`).toBeLessThan(0.5);
    });
    expect(map).toMatchObject({ title: "Hills", elevationFrom: "terrain" });
  });

  it("takes its map by the walk's map id from the map case, and from nowhere else", () => {
    const { id } = JSON.parse(legwright("inspect", "hills.pmtiles", "--format", "json").stdout) as {
      id: string;
    };
    const walk = {
      type: "FeatureCollection",
      legwright: {
        version: 1,
        title: "Planned",
        date: "2026-05-16",
        mapId: id,
        pace: { per100m: 65, steps: 2 },
        notes: "",
      },
      features: [
        [20.44, -33.98],
        [20.452, -33.975],
      ].map((coordinates) => ({ type: "Feature", properties: {}, geometry: { type: "Point", coordinates } })),
    };
    writeFileSync(join(folder, "planned.walk.geojson"), JSON.stringify(walk));
    const without = legwright("table", "planned.walk.geojson");
    expect(without.code, without.stderr).toBe(0);
    expect(without.stderr).toMatch(/not in the map case/);
    expect(without.stdout).toMatch(/not in the map case/);
    execFileSync("mkdir", ["-p", join(folder, "walks")]);
    copyFileSync(join(folder, "hills.pmtiles"), join(folder, "walks", "hills.pmtiles"));
    expect(table("planned.walk.geojson").map).toMatchObject({ title: "Hills" });
    rmSync(join(folder, "walks"), { recursive: true });
  });

  it("gives the declination of the day asked for", () => {
    const first = table(LINE, "--date", "2025-01-01");
    const last = table(LINE, "--date", "2029-12-31");
    expect(first.walk.date).toBe("2025-01-01");
    expect(Math.abs(first.declination.deg - last.declination.deg)).toBeGreaterThan(0.1);
  });

  it.each(["text", "csv", "html"])("writes %s to stdout, or whole into a file", (format) => {
    const shown = legwright("table", LINE, "--map", "hills.pmtiles", "--format", format);
    expect(shown.code, shown.stderr).toBe(0);
    expect(shown.stderr).toBe("");
    const out = join(folder, `table.${format}`);
    expect(legwright("table", LINE, "--map", "hills.pmtiles", "--format", format, "--out", out)).toEqual({
      code: 0,
      stdout: "",
      stderr: "",
    });
    expect(readFileSync(out, "utf8")).toBe(shown.stdout);
    expect(shown.stdout.length).toBeGreaterThan(200);
  });

  it("prints a PDF by the ending of the file", () => {
    const ran = legwright("table", LINE, "--map", "hills.pmtiles", "--out", "table.pdf");
    expect(ran.code, ran.stderr).toBe(0);
    const pages = readPdfPages(readFileSync(join(folder, "table.pdf")));
    expect(pages.flatMap(pdfLines).join(" ")).toMatch(/A → B.*B → C/);
  });
});

describe("bad input to table", () => {
  const write = (name: string, content: unknown): string => {
    const path = join(folder, name);
    writeFileSync(path, typeof content === "string" ? content : JSON.stringify(content));
    return path;
  };
  it.each([
    ["a missing file", () => join(folder, "gone.geojson"), /gone\.geojson/],
    ["a folder", () => folder, /is a folder/],
    ["text that is not JSON", () => write("a.geojson", "{"), /not valid JSON.*a\.geojson/],
    [
      "a NaN coordinate",
      () => write("b.geojson", '{"type":"LineString","coordinates":[[20,-33],[NaN,-33]]}'),
      /b\.geojson/,
    ],
    [
      "a null coordinate",
      () =>
        write("c.geojson", {
          type: "LineString",
          coordinates: [
            [20, -33],
            [null, -33],
          ],
        }),
      /c\.geojson/,
    ],
    [
      "a latitude of 91",
      () =>
        write("d.geojson", {
          type: "LineString",
          coordinates: [
            [20, -33],
            [20, 91],
          ],
        }),
      /d\.geojson/,
    ],
    ["no line", () => write("e.geojson", { type: "FeatureCollection", features: [] }), /e\.geojson/],
    ["bytes that are no text", () => write("f.geojson", ""), /f\.geojson/],
  ])("%s", (_what, path, message) => {
    if (_what.startsWith("bytes"))
      writeFileSync(join(folder, "f.geojson"), Buffer.from([0xff, 0xfe, 0x00, 0x80]));
    expect(fails(1, "table", path())).toMatch(message);
  });

  it("a day that does not exist", () => {
    expect(fails(1, "table", LINE, "--date", "2026-02-30")).toMatch(/2026-02-30/);
  });

  it("a day outside the model gives no declination and says why, rather than a wrong one", () => {
    const ran = legwright("table", LINE, "--date", "2035-01-01", "--format", "json");
    expect(ran.code, ran.stderr).toBe(0);
    const { declination, notes } = JSON.parse(ran.stdout) as Table;
    expect(declination.deg).toBeNull();
    expect(notes?.join(" ")).toMatch(/no magnetic model for 2035/);
  });

  it("a map that is cut short, is none, or is the terrain's", () => {
    copyFileSync(join(folder, "hills.pmtiles"), join(folder, "short.pmtiles"));
    truncateSync(join(folder, "short.pmtiles"), 100);
    expect(fails(1, "table", LINE, "--map", "short.pmtiles")).toMatch(/cut short.*short\.pmtiles/);
    writeFileSync(join(folder, "text.pmtiles"), "not an archive".repeat(20));
    expect(fails(1, "table", LINE, "--map", "text.pmtiles")).toMatch(/text\.pmtiles/);
    expect(fails(1, "table", LINE, "--map", "hills.terrain.pmtiles")).toMatch(/hills\.terrain\.pmtiles/);
    expect(fails(1, "table", LINE, "--map", LINE)).toMatch(/line\.geojson/);
    expect(fails(1, "table", LINE, "--map", "gone.pmtiles")).toMatch(/gone\.pmtiles/);
  });

  it("a map that lacks its later tiles is refused rather than read as empty ground", () => {
    copyFileSync(join(folder, "hills.pmtiles"), join(folder, "half.pmtiles"));
    truncateSync(
      join(folder, "half.pmtiles"),
      Math.floor(statSync(join(folder, "hills.pmtiles")).size * 0.4),
    );
    expect(fails(1, "table", LINE, "--map", "half.pmtiles")).toMatch(/half\.pmtiles/);
  });

  it("a place to write that is not there, and nothing is left", () => {
    expect(fails(1, "table", LINE, "--out", join(folder, "gone", "t.csv"))).toMatch(/folder.*gone/);
    expect(readdirSync(folder)).not.toContain("gone");
  });
});

describe("make-map and inspect", () => {
  it("writes the archive and the terrain beside it, and says what is in them", () => {
    const text = legwright("inspect", "hills.pmtiles");
    expect(text.code).toBe(0);
    expect(text.stdout).toMatch(/Title +Hills\n/);
    expect(text.stdout).toMatch(/Interval +20 m\n/);
    expect(text.stdout).toMatch(/role +layer +fields\n +contour +contour +elevation ele in m, index index\n/);
    const map = JSON.parse(legwright("inspect", "hills.pmtiles", "--format", "json").stdout) as Record<
      string,
      unknown
    >;
    expect(map).toMatchObject({
      title: "Hills",
      source: "SRTM",
      date: "2000",
      attribution: "Public domain",
      rolesFrom: "metadata",
      interval: { value: 20, unit: "m" },
      invented: false,
    });
    expect(map["terrain"]).toMatchObject({ fileName: "hills.terrain.pmtiles" });
    // gdalinfo hills.tif: outer edges of the cells; a map may end at their centres.
    const [west, south, east, north] = map["bounds"] as number[];
    for (const [edge, gdal] of [
      [west, 20.419199],
      [south, -34.0200394],
      [east, 20.5190198],
      [north, -33.9596437],
    ] as const) {
      expect(Math.abs((edge ?? 0) - gdal)).toBeLessThan(0.00084);
    }
  });

  it.each([
    ["a GeoTIFF that does not say where it lies", ["--elevation", NO_CRS], /no-crs\.tif/],
    ["a file that is no GeoTIFF", ["--elevation", LINE], /line\.geojson/],
    ["a missing file", ["--elevation", "gone.tif"], /gone\.tif/],
    ["an interval of nothing", ["--elevation", HILLS, "--interval", "0m"], /interval/],
    ["an interval that is none", ["--elevation", HILLS, "--interval", "lots"], /interval/],
  ])("%s", (_what, args, message) => {
    const before = readdirSync(folder).sort();
    expect(fails(1, "make-map", "bad.pmtiles", ...args)).toMatch(message);
    expect(readdirSync(folder).sort()).toEqual(before);
  });

  it("a GeoTIFF that is cut short", () => {
    copyFileSync(HILLS, join(folder, "short.tif"));
    truncateSync(join(folder, "short.tif"), 5000);
    expect(fails(1, "make-map", "bad.pmtiles", "--elevation", "short.tif")).toMatch(/short\.tif/);
    expect(readdirSync(folder)).not.toContain("bad.pmtiles");
  });

  it("a place that is not there, or a name that is no archive's, before any work", () => {
    expect(fails(1, "make-map", join("gone", "x.pmtiles"), "--elevation", HILLS)).toMatch(/folder.*gone/);
    expect(fails(1, "make-map", "x.tif", "--elevation", HILLS)).toMatch(/x\.tif/);
  });

  it("keeps an earlier map when a new one cannot be made", () => {
    const before = readFileSync(join(folder, "hills.pmtiles"));
    fails(1, "make-map", "hills.pmtiles", "--elevation", NO_CRS);
    expect(readFileSync(join(folder, "hills.pmtiles")).equals(before)).toBe(true);
  });
});

describe("wrong commands", () => {
  it.each([
    [["no-such"], /no-such/],
    [["table"], /walk/],
    [["table", LINE, "--no-such"], /--no-such/],
    [["table", LINE, "--format", "docx"], /docx/],
    [["make-map", "x.pmtiles"], /--elevation/],
  ])("%j", (args, message) => {
    expect(fails(2, ...args)).toMatch(message);
  });

  it("says how it is used", () => {
    const { code, stdout } = legwright("--help");
    expect(code).toBe(0);
    expect(stdout).toMatch(/table.*make-map.*inspect/s);
  });
});
