/** A walk written and read again, in every format; what is written keeps the formats' own rules. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { PLAIN_DIALECT, writeCsv } from "../../../core/exchange/write-csv.ts";
import { writeGpx } from "../../../core/exchange/write-gpx.ts";
import { writeKml } from "../../../core/exchange/write-kml.ts";
import { EXCHANGE_FORMATS, exchangeText, writeExchange } from "../../../core/exchange/write-exchange.ts";
import { type ExchangeParts, USUAL_PARTS } from "../../../core/exchange/parts.ts";
import { pointLabel, type Walk } from "../../../core/walk/walk.ts";
import { anyWalk, NO_PARTS, thereAndBack, walkOf } from "./support.ts";
import { againstSchema } from "./xml-rules.ts";

const SEED = 20261126;
/** Everything that can go along, heights known and unknown. */
const allOf = (walk: Walk): ExchangeParts => ({
  points: true,
  legs: true,
  track: walk.points.map(({ lonLat }, i) => ({ lonLat, heightM: i % 2 === 0 ? 12.34 : null })),
  heightsM: walk.points.map((_, i) => (i % 2 === 0 ? -5 : null)),
  notes: true,
});
const HARD = walkOf('Over & "under" <b>', "line one\nline two", [
  ["=HYPERLINK(1)", 180, 0.0000001, "@note"],
  [null, -179.123456789, -45.987654321],
  ["ends ]]> \u0001\ud800", 1e-8, 12],
]);

/** As UTF-8 and back: halves of a character become U+FFFD. */
const whole = (text: string): string =>
  new TextDecoder("utf-8", { ignoreBOM: true }).decode(new TextEncoder().encode(text));

/** XML and text with another encoding cannot hold these; white space around a text is no part of it. */
const asXml = (text: string): string =>
  whole(text)
    // eslint-disable-next-line no-control-regex
    .replaceAll(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, "\ufffd")
    .trim();
const same = (text: string): string => whole(text).trim();

function expectSame(back: Walk, walk: Walk, held: (text: string) => string): void {
  expect(back.points.length).toBe(walk.points.length);
  for (const [i, point] of walk.points.entries()) {
    const other = back.points[i]!;
    expect(Math.abs(other.lonLat[0] - point.lonLat[0])).toBeLessThanOrEqual(5.1e-10);
    expect(Math.abs(other.lonLat[1] - point.lonLat[1])).toBeLessThanOrEqual(5.1e-10);
    const label = held(pointLabel(walk, i));
    // A name of white space alone is none.
    if (label !== "") expect(pointLabel(back, i)).toBe(label);
    expect(other.note).toBe(held(point.note));
  }
}

describe.each(EXCHANGE_FORMATS)("%s there and back", (format) => {
  const table = format === "csv" || format === "tsv";
  const held = format === "gpx" || format === "kml" || format === "kmz" ? asXml : same;

  it("keeps places, names, notes and title of any walk", async () => {
    await fc.assert(
      fc.asyncProperty(anyWalk, async (walk) => {
        const back = await thereAndBack(walk, format);
        expectSame(back, walk, held);
        if (!table && held(walk.title) !== "") expect(back.title).toBe(held(walk.title));
        if (!table) expect(back.notes).toBe(held(walk.notes));
      }),
      { numRuns: 200, seed: SEED },
    );
  });

  it("refuses a walk without points", () => {
    expect(() => writeExchange(walkOf("t", "", []), format, NO_PARTS, PLAIN_DIALECT)).toThrow(/no points/);
  });
});

describe("GPX and KML", () => {
  it("keep the rules of their schemas for any walk", () => {
    fc.assert(
      fc.property(anyWalk, (walk) => {
        expect(againstSchema(writeGpx(walk, allOf(walk)), "gpx")).toEqual([]);
        expect(againstSchema(writeKml(walk, allOf(walk)), "kml")).toEqual([]);
      }),
      { numRuns: 300, seed: SEED },
    );
    expect(againstSchema(writeKml(walkOf("one", "", [["A", 1, 2]]), USUAL_PARTS), "kml")).toEqual([]);
  });

  it("and the rules see what is wrong", () => {
    const gpx = writeGpx(HARD, allOf(HARD));
    expect(againstSchema(gpx.replace('lon="-180"', 'lon="180"'), "gpx")).toHaveLength(1);
    expect(againstSchema(gpx.replace("<metadata>", "<metadata><time/>"), "gpx")).not.toEqual([]);
    expect(againstSchema(gpx.replace("<rte>", "<rte>x"), "gpx")).toHaveLength(1);
  });

  it("with waypoints and track read as one route", async () => {
    const back = await thereAndBack(HARD, "gpx", PLAIN_DIALECT, allOf(HARD));
    expect(back.points.map(({ name }) => name)).toEqual(["=HYPERLINK(1)", null, "ends ]]> \ufffd\ufffd"]);
    expect(back.points[0]!.lonLat).toEqual([-180, 1e-7]);
  });
});

describe("tables", () => {
  it("hold no cell that a spreadsheet would run, after OWASP, CSV Injection", () => {
    const text = writeCsv(HARD, USUAL_PARTS, PLAIN_DIALECT);
    expect(text.split("\r\n").slice(0, 2)).toEqual([
      "name,lat,lon,note",
      "'=HYPERLINK(1),0.0000001,-180,'@note",
    ]);
  });

  it("are read again in any dialect", async () => {
    for (const separator of [";", "\t"] as const)
      for (const lineEnd of ["\n", "\r\n"] as const)
        for (const bom of [true, false]) {
          const headers = {
            name: "Label",
            lat: "Latitude",
            lon: "Longitude",
            note: "Comment",
            height: "Ele",
          };
          const dialect = { separator, decimal: "," as const, lineEnd, bom, headers };
          expectSame(
            await thereAndBack({ ...HARD, points: HARD.points.slice(1) }, "csv", dialect),
            { ...HARD, points: HARD.points.slice(1) },
            same,
          );
        }
    expect(() => writeCsv(HARD, USUAL_PARTS, { ...PLAIN_DIALECT, decimal: "," })).toThrow(/comma/);
  });
});

const xmllint = spawnSync("xmllint", ["--version"]).status === 0;

describe.skipIf(!xmllint)("xmllint, where it is installed", () => {
  it.each(["gpx", "kml"] as const)("finds any walk as %s valid by the rules in fixtures/exchange", (kind) => {
    const folder = mkdtempSync(join(tmpdir(), "legwright-exchange-"));
    const schema = fileURLToPath(new URL(`../../fixtures/exchange/${kind}-rules.xsd`, import.meta.url));
    const judge = (files: readonly string[]) =>
      spawnSync("xmllint", ["--noout", "--nonet", "--schema", schema, ...files], { encoding: "utf8" });
    try {
      const write = (name: string, text: string): string => {
        writeFileSync(join(folder, name), text);
        return join(folder, name);
      };
      const texts = fc
        .sample(anyWalk, { numRuns: 60, seed: SEED })
        .concat(HARD)
        .map((walk) => exchangeText(walk, kind, allOf(walk), PLAIN_DIALECT));
      const { status, stderr } = judge(texts.map((text, i) => write(`${i}.${kind}`, text)));
      expect([status, stderr.match(/fails to validate/g)]).toEqual([0, null]);
      // And it sees what is wrong.
      const wrong = (texts.at(-1) as string).replace(/<name>/, "<nom>").replace(/<\/name>/, "</nom>");
      expect(judge([write(`wrong.${kind}`, wrong)]).status).not.toBe(0);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});

const ogr = spawnSync("ogr2ogr", ["--version"]).status === 0;

describe.skipIf(!ogr)("GDAL, where ogr2ogr is installed", () => {
  it.each(["gpx", "kml", "kmz", "geojson"] as const)("reads places and names of %s", (format) => {
    const folder = mkdtempSync(join(tmpdir(), "legwright-exchange-"));
    try {
      const walk = walkOf("Over & under", "notes", [
        ["Start <1>", -133.192252612, 46.341687912],
        ["Søndre bru", -133.194625712, 46.333859912],
        ["=1", -133.187824212, -46.330543512],
      ]);
      const path = join(folder, `w.${format}`);
      writeFileSync(path, writeExchange(walk, format, USUAL_PARTS, PLAIN_DIALECT));
      const lines: number[][][] = [];
      const names: string[] = [];
      for (const layer of format === "gpx" ? ["routes", "waypoints"] : [null]) {
        const { stdout } = spawnSync(
          "ogr2ogr",
          [
            "-f",
            "GeoJSON",
            "-lco",
            "COORDINATE_PRECISION=12",
            "/vsistdout/",
            path,
            ...(layer ? [layer] : []),
          ],
          { encoding: "utf8" },
        );
        // KML has a layer for each folder, which GDAL writes one after another.
        for (const part of stdout.split(/(?<=\n\})\n(?=\{)/)) {
          const { features } = JSON.parse(part) as {
            features: {
              geometry: { type: string; coordinates: never };
              properties: Record<string, string>;
            }[];
          };
          for (const { geometry, properties } of features)
            if (geometry.type === "LineString") lines.push(geometry.coordinates);
            else names.push((properties["name"] ?? properties["Name"]) as string);
        }
      }
      expect(lines).toHaveLength(1);
      for (const [i, { lonLat }] of walk.points.entries()) {
        expect(lines[0]![i]![0]).toBeCloseTo(lonLat[0], 9);
        expect(lines[0]![i]![1]).toBeCloseTo(lonLat[1], 9);
      }
      if (names.length > 0) expect(names).toEqual(["Start <1>", "Søndre bru", "=1"]);
      expect(names.length > 0 || format.startsWith("km")).toBe(true);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
