/** Files of other programs, held to what GDAL reads in them (fixtures/exchange/README.md). */
import { strToU8, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { READ_LIMITS } from "../../../core/exchange/exchange.ts";
import { readExchange } from "../../../core/exchange/read-exchange.ts";
import { walkFrom } from "../../../core/exchange/walk-from.ts";
import { inverse } from "../../../core/geodesy/geodesic.ts";
import { Fault } from "../../../core/fault.ts";
import { fixture } from "./support.ts";

interface Feature {
  readonly name: string | null;
  readonly lines: readonly (readonly (readonly [number, number])[])[];
}
const byGdal = JSON.parse(new TextDecoder().decode(fixture("read-by-gdal.json"))) as Record<
  string,
  Feature[] | null
>;
/** GDAL refuses, skips or guesses at what stands in these: refused with a place, below. */
const BROKEN = ["bad.gpx", "bad.kml", "empty_trk.gpx", "null_geometry.kml"];
/** GDAL gives an area's holes along with its edge: outlines.test.ts. */
const AREAS = ["polygon.kml"];

const read = (text: string, name: string, options = READ_LIMITS) =>
  readExchange(strToU8(text), name, options);
const faultOf = async (reading: Promise<unknown>): Promise<Fault> => {
  const thrown = await reading.then(
    () => null,
    (error: unknown) => error,
  );
  expect(thrown).toBeInstanceOf(Fault);
  return thrown as Fault;
};

describe("GDAL and this program read the same", () => {
  it.each(Object.keys(byGdal).filter((name) => !BROKEN.includes(name) && !AREAS.includes(name)))(
    "in %s",
    async (name) => {
      const features = byGdal[name]!;
      expect(features.length).toBeGreaterThan(0);
      const { candidates } = await readExchange(fixture(name), name);
      const nine = (p: readonly [number, number]): string => p.map((x) => Number(x.toFixed(9))).join(" ");
      // GDAL gives a point a feature of its own and the parts of a track together; here points are one set.
      const theirs = features.flatMap(({ name: own, lines }) => {
        const all = lines.flat();
        return lines.every((line) => line.length === 1)
          ? all.map((p) => `${own} ${nine(p)}`)
          : name.endsWith(".gpx")
            ? [`${own} ${all.map(nine).join(", ")}`]
            : lines.map((line) => `${own} ${line.map(nine).join(", ")}`);
      });
      const ours = candidates.flatMap((one) =>
        one.kind === "points" || one.positions.length === 1
          ? one.positions.map((p, i) => `${one.kind === "points" ? one.names[i] : one.name} ${nine(p)}`)
          : [`${one.name} ${one.positions.map(nine).join(", ")}`],
      );
      expect(ours.sort()).toEqual(theirs.sort());
    },
  );
});

describe("a broken file", () => {
  it.each([
    ["bad.gpx", "bad.gpx, line 5"],
    ["bad.kml", "bad.kml, line 5"],
    ["empty_trk.gpx", "empty_trk.gpx"],
    ["null_geometry.kml", "null_geometry.kml"],
  ])("%s gives one fault with its place", async (name, where) => {
    expect(await faultOf(readExchange(fixture(name), name))).toMatchObject({ code: "bad-features", where });
  });

  it("with entities of its own, or that reaches out, is refused", async () => {
    const xml =
      '<!DOCTYPE gpx [<!ENTITY a SYSTEM "file:///etc/passwd">]><gpx><wpt lat="1" lon="1"><name>&a;</name></wpt></gpx>';
    expect((await faultOf(read(xml, "e.gpx"))).where).toBe("e.gpx, line 1");
  });

  it("beyond the limits of size, number, depth and unpacking is refused", async () => {
    const gpx = `<gpx>${'<wpt lat="1" lon="1"/>'.repeat(20)}</gpx>`;
    expect((await faultOf(read(gpx, "m.gpx", { ...READ_LIMITS, mostPositions: 10 }))).what).toMatch(
      /more than 10/,
    );
    expect((await faultOf(read(gpx, "m.gpx", { ...READ_LIMITS, mostBytes: 10 }))).what).toMatch(/larger/);
    expect((await faultOf(read("<gpx>".repeat(1000), "d.gpx"))).what).toMatch(/inside one another/);
    const deep = `${'{"type":"GeometryCollection","geometries":['.repeat(100)}${"]}".repeat(100)}`;
    expect((await faultOf(read(deep, "d.geojson"))).what).toMatch(/inside one another/);
    const bomb = zipSync({ "doc.kml": new Uint8Array(2 ** 27) }, { level: 9 });
    expect(bomb.length).toBeLessThan(2 ** 18);
    expect((await faultOf(readExchange(bomb, "b.kmz"))).what).toMatch(/unpack to 128 MB/);
  });

  it.each(["../doc.kml", "/doc.kml", "a/../../doc.kml", "..\\doc.kml", "c:doc.kml"])(
    "a name like %s in a zip is refused",
    async (name) => {
      const kmz = zipSync({ [name]: fixture("point.kml") });
      expect((await faultOf(readExchange(kmz, "t.kmz"))).what).toMatch(/leads out/);
    },
  );
});

describe("tables", () => {
  it("have positions in degrees with decimal commas, in UTM or in MGRS", async () => {
    // GeoConvert (GeographicLib 2.1.2), `echo 47.3769 8.5417 | GeoConvert -m -p 0` and `-u -p 3`, is the check of the
    // notations in tests/core/geodesy; here the columns are looked at.
    const degrees = await read("Navn;Lat;Lon\nBru;47,3769;8,5417\n".replace("Navn", "Name"), "t.csv");
    expect(degrees.candidates[0]).toMatchObject({ names: ["Bru"], positions: [[8.5417, 47.3769]] });
    const utm = await read("name,zone,easting,northing\nBru,32N,465397,5247194\n", "t.csv");
    const mgrs = await read("name\tMGRS\nBru\t32T MT 65397 47194\n", "t.tsv");
    for (const { candidates } of [utm, mgrs]) {
      expect(candidates[0]!.positions[0]![0]).toBeCloseTo(8.5417, 3);
      expect(candidates[0]!.positions[0]![1]).toBeCloseTo(47.3769, 3);
    }
  });

  it("without names of columns are read in the order said, or guessed with a warning", async () => {
    const guessed = await read("46.3,-133.1\n46.4,-133.2\n", "t.csv");
    expect(guessed.candidates[0]!.positions[0]).toEqual([-133.1, 46.3]);
    expect(guessed.report.join()).toMatch(/taken for the latitude/);
    expect((await read("-133.1,46.3\n", "t.csv")).candidates[0]!.positions[0]).toEqual([-133.1, 46.3]);
    const said = await read("8.5,47.3\n", "t.csv", { ...READ_LIMITS, axes: "lon-lat" });
    expect(said.candidates[0]!.positions[0]).toEqual([8.5, 47.3]);
    expect(said.report).toEqual([]);
  });

  it("name the line that is wrong", async () => {
    expect(await faultOf(read("name,lat,lon\nA,1,2\nB,x,3\n", "t.csv"))).toMatchObject({
      code: "bad-features",
      where: "t.csv, line 3",
    });
    expect((await faultOf(read('name,lat,lon\n"A,1,2\n', "t.csv"))).where).toBe("t.csv, line 2");
  });

  it("in an old encoding are read, and that is said", async () => {
    const bytes = Uint8Array.from("name,lat,lon\nS\u00f8r,1,2\n", (c) => c.charCodeAt(0));
    const { candidates, report } = await readExchange(bytes, "t.csv");
    expect(candidates[0]!.names).toEqual(["S\u00f8r"]);
    expect(report.join()).toMatch(/Windows-1252/);
  });
});

describe("lengths", () => {
  it("are those of Karney's geodesics, step by step", async () => {
    const far = "0,0 0.009,0.009 0.5,0.3 0.5,79.9 0.509,79.909 0.509,85 0.518,85.001";
    const text = `<kml><Placemark><LineString><coordinates>${far}</coordinates></LineString></Placemark></kml>`;
    for (const exchange of [
      await read(text, "f.kml"),
      await readExchange(fixture("route.gpx"), "route.gpx"),
    ]) {
      const [{ positions, lengthM }] = exchange.candidates as [(typeof exchange.candidates)[0]];
      let sum = 0;
      for (let i = 1; i < positions.length; i++) sum += inverse(positions[i - 1]!, positions[i]!).distanceM;
      expect(Math.abs(lengthM - sum)).toBeLessThan(0.001 * positions.length);
    }
  });
});

describe("the walk of a file", () => {
  it("is thinned as asked, and says what became of the rest", async () => {
    const exchange = await readExchange(fixture("gdal.gpx"), "gdal.gpx");
    expect(exchange.candidates.map(({ kind, name }) => [kind, name])).toEqual([
      ["route", "route name"],
      ["track", "track name"],
      ["points", null],
    ]);
    const { walk, report } = walkFrom(exchange, {
      pick: 1,
      toleranceM: 50_000,
      date: "2026-05-16",
      fallbackTitle: "f",
    });
    expect(walk).toMatchObject({ title: "track name", date: "2026-05-16" });
    expect(walk.points.length).toBeLessThan(4);
    const told = report.join("\n");
    for (const said of [/Of 4 positions/, /Heights of 4/, /Segments/, /2 more/, /“src”/])
      expect(told).toMatch(said);
  });

  it("cannot have more points than a walk holds", async () => {
    const text = `lat,lon\n${Array.from({ length: 5001 }, (_, i) => `1,${i / 100}\n`).join("")}`;
    const exchange = await read(text, "t.csv");
    const choice = { pick: 0, toleranceM: null, date: "2026-05-16", fallbackTitle: "f" };
    expect(() => walkFrom(exchange, choice)).toThrow(/5001 points remain/);
    expect(walkFrom(exchange, { ...choice, toleranceM: 10 }).walk.points.length).toBeLessThan(5000);
    expect(() => walkFrom(exchange, { ...choice, pick: 7 })).toThrow(/no number 8/);
  });
});
