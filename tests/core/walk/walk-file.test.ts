import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { addPoint, renamePoint, setNotes, setPointNote, setTitle } from "../../../core/walk/edits.ts";
import { emptyWalk, type Walk } from "../../../core/walk/walk.ts";
import { formatWalk, parseWalk } from "../../../core/walk/walk-file.ts";

const today = "2026-05-16";
const parse = (text: string) => parseWalk(text, "x.walk.geojson", today);

function faultOf(act: () => unknown): Fault {
  try {
    act();
  } catch (error) {
    if (error instanceof Fault) return error;
    throw error;
  }
  throw new Error("nothing was thrown");
}

function threePoints(): Walk {
  let walk = addPoint(emptyWalk(today), [-121.1, 46.05]);
  walk = addPoint(walk, [-121.09, 46.06], "Hut");
  walk = addPoint(walk, [-121.08, 46.055]);
  return setTitle(setNotes(setPointNote(walk, "p2", "wait here"), "two lines\nof notes"), "Saturday");
}

describe("a walk file", () => {
  it("comes back as it was written, and equal walks give equal texts", () => {
    const walk = threePoints();
    const text = formatWalk(walk);
    expect(parse(text)).toEqual({ walk, repairs: [], newer: false, foreign: false });
    expect(formatWalk(parse(text).walk)).toBe(text);
  });

  it("comes back for any positions and texts", () => {
    const point = fc.record({
      lon: fc.double({ min: -180, max: 180, noNaN: true }),
      lat: fc.double({ min: -89, max: 89, noNaN: true }),
      name: fc.option(fc.string({ unit: "binary", maxLength: 40 })),
    });
    fc.assert(
      fc.property(
        fc.array(point, { maxLength: 12 }),
        fc.string({ unit: "binary", maxLength: 60 }),
        (points, notes) => {
          let walk = setNotes(emptyWalk(today), notes);
          for (const { lon, lat, name } of points) {
            // The file keeps nine decimals of a degree.
            walk = addPoint(walk, [Number(lon.toFixed(9)) + 0, Number(lat.toFixed(9)) + 0]);
            if (name !== null) walk = renamePoint(walk, walk.points.at(-1)?.id ?? "", name);
          }
          expect(parse(formatWalk(walk)).walk).toEqual(walk);
        },
      ),
      { seed: 20260516, numRuns: 500 },
    );
  });

  it("keeps members and features that other programs added, wherever RFC 7946 §6.1 allows foreign members", () => {
    const json = JSON.parse(formatWalk(threePoints()));
    json.crew = { boat: 3 };
    json.legwright.colour = "red";
    json.features[1].weather = "dry";
    json.features[1].properties.height = 512.5;
    json.features[3].properties.surface = "bog";
    json.features.push({ type: "Feature", geometry: null, properties: { own: true } });
    const text = JSON.stringify(json);
    const again = JSON.parse(formatWalk(parse(text).walk));
    expect(again).toEqual(json);
  });

  it("from a newer version is read but said to be newer", () => {
    const text = formatWalk(threePoints()).replace('"version": 1', '"version": 7');
    expect(parse(text).newer).toBe(true);
  });

  it("is read by GDAL with the same coordinates and names", (context) => {
    if (spawnSync("ogrinfo", ["--version"]).status !== 0)
      return context.skip("ogrinfo (gdal-bin) is not installed");
    const folder = mkdtempSync(join(tmpdir(), "legwright-"));
    const file = join(folder, "a.walk.geojson");
    writeFileSync(file, formatWalk(threePoints()));
    const out = execFileSync("ogrinfo", ["-ro", "-al", "-q", file], { encoding: "utf8" });
    rmSync(folder, { recursive: true });
    expect(out).toContain("POINT (-121.09 46.06)");
    expect(out).toContain("name (String) = Hut");
    expect(out).toContain("LINESTRING (-121.1 46.05,-121.09 46.06)");
  });
});

describe("the settings of a walk", () => {
  const full: Walk = {
    ...threePoints(),
    startTime: "08:30",
    backBy: "17:00",
    timeZone: "America/Los_Angeles",
    north: "grid",
    declination: {
      use: "printed",
      printed: { valueDeg: 9, of: "gridMagnetic", year: 2013, annualChangeDeg: -0.1 },
      beyondModel: true,
    },
    pace: { per100m: 62, upPer100m: 74, downPer100m: 66, steps: 1 },
    timeMethod: "toblerOffPath",
    timeFactors: { party: 1.2, load: 1.1, surface: 1, breakMinPerHour: 5 },
  };
  it("come back as they were written", () => {
    expect(parse(formatWalk(full))).toEqual({ walk: full, repairs: [], newer: false, foreign: false });
  });
  it("that are absent or null are those of an empty walk", () => {
    const json = JSON.parse(formatWalk(full));
    json.legwright = { version: 1, date: null, pace: { per100m: 62 }, north: null };
    const { walk, repairs } = parse(JSON.stringify(json));
    expect(walk).toMatchObject({
      ...emptyWalk(today),
      pace: { per100m: 62, upPer100m: null, downPer100m: null, steps: 2 },
      points: full.points,
    });
    expect(repairs).toEqual([]);
  });
  it.each([
    ["startTime", '"8:30"', /time of day/],
    ["timeZone", '"Nowhere/Town"', /time zone/],
    ["timeFactors", '{"load": 99}', /factor/],
    ["timeFactors", '{"load": "much"}', /number/],
    ["declination", '{"use": "printed"}', /none was given/],
    ["declination", '{"use": "printed", "printed": {"valueDeg": 999, "year": 2000}}', /within 180°/],
  ])("refuse %s %s with its place", (key, value, sentence) => {
    const json = JSON.parse(formatWalk(full));
    json.legwright[key] = JSON.parse(value);
    const fault = faultOf(() => parse(JSON.stringify(json)));
    expect(fault.code).toBe("bad-walk");
    expect(fault.what).toMatch(sentence);
    expect(fault.where).toContain(key);
  });
  it("of a later kind are replaced, and that is said", () => {
    const { walk, repairs } = parse(formatWalk(full).replace("toblerOffPath", "by-balloon"));
    expect(walk.timeMethod).toBe("naismith");
    expect(repairs).toEqual(["The way of working out time “by-balloon” is not known: naismith was taken."]);
  });
});

describe("any GeoJSON as a walk", () => {
  // RFC 7946 appendix A.1 and A.2 and §1.5 hold these geometries.
  it("takes the LineString of RFC 7946 §1.5", () => {
    const text = `{"type":"FeatureCollection","features":[
      {"type":"Feature","geometry":{"type":"LineString","coordinates":[[102.0,0.0],[103.0,1.0],[104.0,0.0],[105.0,1.0]]},
       "properties":{"prop0":"value0","prop1":0.0}}]}`;
    expect(parse(text).walk.points.map((p) => p.lonLat)).toEqual([
      [102, 0],
      [103, 1],
      [104, 0],
      [105, 1],
    ]);
  });

  it("takes a bare LineString (RFC 7946 appendix A.2) and Points in order with their names", () => {
    expect(parse('{"type":"LineString","coordinates":[[100.0,0.0],[101.0,1.0]]}').walk.points).toHaveLength(
      2,
    );
    const points = ["Gate", "Ford"].map((name, i) => ({
      type: "Feature",
      geometry: { type: "Point", coordinates: [10 + i, 50, 300] },
      properties: { name },
    }));
    const read = parse(JSON.stringify({ type: "FeatureCollection", features: points }));
    expect(read.walk.points.map((p) => p.name)).toEqual(["Gate", "Ford"]);
    expect(read.repairs).toEqual(["Heights in the file are not used: the map's are."]);
  });

  it.each([
    [
      "two lines",
      '{"type":"FeatureCollection","features":[{"type":"Feature","geometry":{"type":"LineString","coordinates":[[0,0],[1,1]]}},{"type":"Feature","geometry":{"type":"LineString","coordinates":[[0,0],[1,1]]}}]}',
      /2 lines/,
    ],
    ["nothing usable", '{"type":"FeatureCollection","features":[]}', /no line and no points/],
    ["not GeoJSON", '{"type":"Topology"}', /neither a walk file nor GeoJSON/],
  ])("refuses %s", (_what, text, sentence) => {
    const fault = faultOf(() => parse(text));
    expect(fault.code).toBe("bad-walk");
    expect(fault.what).toMatch(sentence);
  });
});

describe("a bad walk file", () => {
  const good = formatWalk(threePoints());
  it.each([
    ["a NaN coordinate", good.replace("[-121.09,46.06]", "[NaN,46.06]"), /not valid JSON/, /line \d+/],
    [
      "a NaN in quotes",
      good.replace("[-121.09,46.06]", '["NaN",46.06]'),
      /two numbers/,
      /feature 2, coordinates/,
    ],
    [
      "a null coordinate",
      good.replace("[-121.09,46.06]", "[null,46.06]"),
      /two numbers/,
      /feature 2, coordinates/,
    ],
    ["latitude 91", good.replace("[-121.09,46.06]", "[-121.09,91]"), /Latitude 91/, /feature 2/],
    [
      "a number past the doubles",
      good.replace("[-121.09,46.06]", "[1e999,46.06]"),
      /two numbers/,
      /feature 2/,
    ],
    ["a truncated file", good.slice(0, 300), /not valid JSON/, /line|end/],
    ["a 30th of February", good.replace("2026-05-16", "2026-02-30"), /not a day/, /date/],
    ["a pace of 0", good.replace('"per100m": 65', '"per100m": 0'), /paces/, /pace/],
    ["a walk that is a list", "[]", /JSON object/, /x\.walk/],
    [
      "features that are none",
      good.replace(/"features"[^]*$/, '"features": [3]}'),
      /JSON object/,
      /feature 1/,
    ],
    ["no version", good.replace('"version": 1', '"version": "one"'), /version/, /version/],
    ["nothing at all", "", /not valid JSON/, /line 1/],
  ])("with %s is refused with its place", (_what, text, sentence, place) => {
    const fault = faultOf(() => parse(text));
    expect(fault.code).toBe("bad-walk");
    expect(fault.what).toMatch(sentence);
    expect(fault.where).toMatch(place);
  });

  it("cut anywhere is either refused with a Fault or, at the full length only, read", () => {
    for (let n = 0; n < good.trimEnd().length; n++)
      expect(faultOf(() => parse(good.slice(0, n))).code).toBe("bad-walk");
  });

  it("with twice the same id is repaired, and says so", () => {
    const read = parse(good.replace('"id":"p2"', '"id":"p1"'));
    expect(new Set(read.walk.points.map((p) => p.id)).size).toBe(3);
    expect(read.repairs).toHaveLength(1);
  });

  it("cannot reach an object's prototype", () => {
    const text = good
      .replace('"crew"', '"crew"')
      .replace('"notes"', '"__proto__": {"polluted": true}, "notes"');
    parse(text);
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
  });
});
