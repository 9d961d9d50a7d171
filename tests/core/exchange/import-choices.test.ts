/** What a person may say of a file: axes, datum and grid, encoding, columns; what the program finds out by itself. */
import { spawnSync } from "node:child_process";
import { strToU8 } from "fflate";
import { describe, expect, it } from "vitest";
import { READ_LIMITS, type ReadOptions } from "../../../core/exchange/exchange.ts";
import { datumFrame, gridFrame } from "../../../core/exchange/file-frame.ts";
import { readExchange, tableIn } from "../../../core/exchange/read-exchange.ts";
import { walkFrom } from "../../../core/exchange/walk-from.ts";
import { britishGrid, gridOf, nad27Utm } from "../../../core/geodesy/grid.ts";
import { inverse } from "../../../core/geodesy/geodesic.ts";

const read = (text: string, name: string, options: Partial<ReadOptions> = {}) =>
  readExchange(strToU8(text), name, { ...READ_LIMITS, ...options });
const gpx = (...points: readonly (readonly [lat: number, lon: number])[]): string =>
  `<gpx version="1.1"><rte>${points.map(([lat, lon]) => `<rtept lat="${lat}" lon="${lon}"/>`).join("")}</rte></gpx>`;
const first = async (text: string, name: string, options: Partial<ReadOptions> = {}) =>
  (await read(text, name, options)).candidates[0]!.positions[0]!;

describe("latitude and longitude in each other's place", () => {
  it("are recognised where no such place exists, and said", async () => {
    const { candidates, report } = await read(gpx([-133.1, 46.3], [-133.2, 46.4]), "t.gpx");
    expect(candidates[0]!.positions).toEqual([
      [-133.1, 46.3],
      [-133.2, 46.4],
    ]);
    expect(report.join()).toMatch(/no such place exists\. They were exchanged/);
    // One bad latitude among good ones is a bad latitude.
    await expect(read(gpx([46.3, -133.1], [146.3, -80]), "t.gpx")).rejects.toMatchObject({
      code: "bad-features",
      where: "t.gpx, line 1",
    });
  });

  it("are recognised where only that way they lie on the open map", async () => {
    const near = [8, 47, 9, 48] as const;
    const { candidates, report } = await read(gpx([8.5, 47.3]), "t.gpx", { near });
    expect(candidates[0]!.positions).toEqual([[8.5, 47.3]]);
    expect(report.join()).toMatch(/on the open map/);
    expect(await first(gpx([47.3, 8.5]), "t.gpx", { near })).toEqual([8.5, 47.3]);
    expect(await first(gpx([60, 10]), "t.gpx", { near })).toEqual([10, 60]);
  });

  it("are exchanged or left as a person says", async () => {
    expect(await first(gpx([8.5, 47.3]), "t.gpx", { exchanged: true })).toEqual([8.5, 47.3]);
    await expect(read(gpx([-133, 46]), "t.gpx", { exchanged: false })).rejects.toThrow(/latitude -133/);
    await expect(read(gpx([46, -133]), "t.gpx", { exchanged: true })).rejects.toThrow(/Exchanged/);
  });
});

/** cs2cs of PROJ, the same constants. */
const cs2cs = (from: string, line: string): [number, number] => {
  const { stdout } = spawnSync("cs2cs", ["-f", "%.9f", from, "+to", "+proj=longlat", "+datum=WGS84"], {
    input: `${line}\n`,
    encoding: "utf8",
  });
  const [lon, lat] = stdout.trim().split(/\s+/).map(Number);
  return [lon!, lat!];
};
const proj = spawnSync("cs2cs", []).error === undefined;

describe.skipIf(!proj)("datums and grids, held to cs2cs of PROJ where it is installed", () => {
  const within = (a: readonly [number, number], b: readonly [number, number], metres: number): void =>
    expect(inverse(a, b).distanceM).toBeLessThan(metres);

  it("degrees on NAD27 and OSGB36", async () => {
    const nad27 = await read(gpx([40.25, -105.5]), "t.gpx", { frame: datumFrame("nad27") });
    within(
      nad27.candidates[0]!.positions[0]!,
      cs2cs("+proj=longlat +ellps=clrk66 +towgs84=-8,160,176", "-105.5 40.25"),
      0.01,
    );
    expect(nad27.report.join()).toMatch(/NAD27, contiguous United States to WGS 84, good to about 10 m/);
    within(
      await first(gpx([54.5, -3.1]), "t.gpx", { frame: datumFrame("british") }),
      cs2cs(
        "+proj=longlat +ellps=airy +towgs84=446.448,-125.157,542.06,0.15,0.247,0.842,-20.489",
        "-3.1 54.5",
      ),
      0.01,
    );
  });

  it("eastings and northings of a grid, in its unit or another", async () => {
    const table = "name,e,n\nBru,465397,4455194\n";
    const at = cs2cs("+proj=utm +zone=13 +ellps=clrk66 +towgs84=-8,160,176", "465397 4455194");
    within(await first(table, "t.csv", { frame: gridFrame(nad27Utm(13)) }), at, 0.01);
    within(await first("465.397;4455.194\n", "t.csv", { frame: gridFrame(nad27Utm(13), 1000) }), at, 0.01);
    const feet = "+proj=tmerc +lat_0=0 +lon_0=9 +k=1 +x_0=500000 +ellps=GRS80 +towgs84=0,0,0 +units=us-ft";
    within(
      await first("1640416,17388451\n", "t.csv", { frame: gridFrame(gridOf("feet", feet)) }),
      cs2cs(feet, "1640416 17388451"),
      0.01,
    );
    await expect(read("1e30,5\n", "t.csv", { frame: gridFrame(britishGrid()) })).rejects.toMatchObject({
      code: "bad-features",
    });
  });
});

describe("a list of positions", () => {
  it("is read line by line, in any notation, with names before or after", async () => {
    // 47.3769, 8.5417 as 32T MT 65403 47150: GeoConvert of GeographicLib 2.1.2, `echo 47.3769 8.5417 | GeoConvert -m -p 0`.
    const lines = [
      "Bridge: 32T MT 65403 47150",
      "32T MT 65403 47150 the ford",
      "47.3769 N 8.5417 E",
      "",
      "Old barn 47.3769, 8.5417",
    ].join("\n");
    const { format, candidates } = await read(lines, "pasted");
    expect(format).toBe("list");
    expect(candidates[0]!.names).toEqual(["Bridge", "the ford", null, "Old barn"]);
    for (const at of candidates[0]!.positions)
      expect(inverse(at, [8.5417, 47.3769]).distanceM).toBeLessThan(8);
  });

  it("has partial references completed by the open map, and British ones where that grid is chosen", async () => {
    const near = [8.4, 47.3, 8.7, 47.5] as const;
    const [at] = (await read("MT 65403 47150\nMT 65410 47160", "pasted", { near })).candidates[0]!.positions;
    expect(inverse(at!, [8.5417, 47.3769]).distanceM).toBeLessThan(8);
    // Ordnance Survey, A Guide to Coordinate Systems in Great Britain: TG 51409 13177 is 651409 313177.
    const british = await read("Tower: TG 51409 13177", "pasted", { frame: gridFrame(britishGrid()) });
    const same = await first("651409.5,313177.5\n", "t.csv", { frame: gridFrame(britishGrid()) });
    expect(inverse(british.candidates[0]!.positions[0]!, same).distanceM).toBeLessThan(0.01);
  });

  it("is read on the British grid where only there it lies on the open map, and that is said", async () => {
    // Easting 651409.5, northing 313177.5 by cs2cs of PROJ 9.1.1, with the constants of tests above.
    const near = [1.5, 52.5, 1.9, 52.8] as const;
    for (const text of ["TG 51409 13177\n", "name,reference\nTower,TG 51409 13177\n"]) {
      const { candidates, report } = await read(text, "pasted", { near });
      expect(inverse(candidates[0]!.positions[0]!, [1.7160462, 52.6579808]).distanceM).toBeLessThan(0.1);
      expect(report.join()).toMatch(/British grid/);
    }
    const mgrs = await read("MT 65403 47150\n", "pasted", { near: [8.4, 47.3, 8.7, 47.5] });
    expect(mgrs.report).toEqual([]);
  });

  it("names the line that is none, and other text is still no table", async () => {
    await expect(read("47.3769 N 8.5417 E\nand so on\n", "pasted")).rejects.toMatchObject({
      where: "pasted, line 2",
    });
    await expect(read("47.3769 N 8.5417 E\n".repeat(10_001), "pasted")).rejects.toThrow(/more than 10000/);
    await expect(read("to whom it may concern\n", "pasted")).rejects.toThrow(/No columns of positions/);
  });
});

describe("a table as a person says it is", () => {
  const text = "Punkt;Nord;Ost\nBru;47,3769;8,5417\n";
  const columns = { name: 0, lat: 1, lon: 2 };

  it("shows its first rows even while nothing is understood", async () => {
    const unclear = "Punkt;Sted\nBru;ved elva\n";
    await expect(read(unclear, "t.csv")).rejects.toThrow(/No columns/);
    expect(tableIn(strToU8(unclear), "t.csv", READ_LIMITS)).toEqual({
      separator: ";",
      header: false,
      columns: {},
      sample: [
        ["Punkt", "Sted"],
        ["Bru", "ved elva"],
      ],
      rows: 2,
      width: 2,
    });
    expect(tableIn(strToU8("<gpx/>"), "t.gpx", READ_LIMITS)).toBeNull();
  });

  it("has its header known by its figures, whatever the language", async () => {
    const { candidates, table, report } = await read(text, "t.csv");
    expect(candidates[0]).toMatchObject({ names: ["Bru"], positions: [[8.5417, 47.3769]] });
    expect(table).toMatchObject({ header: true, columns });
    expect(report.join()).toMatch(/no names that are known here/);
  });

  it("is read by the columns chosen", async () => {
    const table = { separator: null, decimal: null, header: true, columns } as const;
    const { candidates, table: look } = await read(text, "t.csv", { table });
    expect(candidates[0]).toMatchObject({ names: ["Bru"], positions: [[8.5417, 47.3769]] });
    expect(look).toMatchObject({ header: true, columns, separator: ";" });
    await expect(read(text, "t.csv", { table: { ...table, decimal: "." } })).rejects.toMatchObject({
      where: "t.csv, line 2",
    });
    await expect(read(text, "t.csv", { table: { ...table, columns: { lat: 1 } } })).rejects.toThrow(
      /give no position/,
    );
  });
});

describe("encodings", () => {
  it("are those a person names, in text and in XML", async () => {
    // "Přístav" in ISO 8859-2, by Unicode's mapping table 8859-2.TXT: ø is 0xF8 there ř.
    const bytes = (text: string): Uint8Array => Uint8Array.from(text, (c) => c.charCodeAt(0));
    const named = async (text: string, name: string, encoding: string | null) =>
      (await readExchange(bytes(text), name, { ...READ_LIMITS, encoding })).candidates[0]!.names;
    expect(await named("name,lat,lon\nP\u00f8\u00edstav,1,2\n", "t.csv", "iso-8859-2")).toEqual(["Přístav"]);
    const xml =
      '<?xml version="1.0" encoding="utf-8"?><gpx><wpt lat="1" lon="2"><name>P\u00f8\u00edstav</name></wpt></gpx>';
    expect(await named(xml, "t.gpx", "iso-8859-2")).toEqual(["Přístav"]);
    await expect(named(xml, "t.gpx", null)).rejects.toThrow(/no text in the encoding/);
    await expect(named(xml, "t.gpx", "utf-8")).rejects.toThrow(/no text in utf-8/);
    await expect(named(xml, "t.gpx", "klingon")).rejects.toThrow(/no encoding/);
  });
});

describe("what is passed over is said", () => {
  const told = async (bytes: Uint8Array, name: string): Promise<string> => {
    const exchange = await readExchange(bytes, name);
    return walkFrom(exchange, {
      pick: 0,
      toleranceM: null,
      date: "2026-05-16",
      fallbackTitle: "f",
    }).report.join("\n");
  };

  it("of GPX: comments go into the notes, the rest by its name", async () => {
    const text = `<gpx version="1.1"><metadata><author><name>x</name></author></metadata><rte><number>1</number><cmt>c</cmt><desc>d</desc>
      <rtept lat="1" lon="2"><cmt>wet</cmt><desc>ford</desc><sym>Flag</sym></rtept></rte></gpx>`;
    const { candidates } = await read(text, "t.gpx");
    expect(candidates[0]).toMatchObject({ notes: "d\nc", pointNotes: ["ford\nwet"] });
    const all = await told(strToU8(text), "t.gpx");
    for (const said of [
      /“sym” was left out \(positions: 1\)/,
      /“number” was left out \(routes and tracks: 1\)/,
      /“author” of the file/,
    ])
      expect(all).toMatch(said);
  });

  it("of KML: extended data by name, looks, overlays, folders", async () => {
    const text = `<kml><Document><Folder><name>F</name><Placemark><styleUrl>#a</styleUrl><address>here</address>
      <ExtendedData><Data name="depth"><value>3</value></Data></ExtendedData>
      <Point><coordinates>1,2</coordinates></Point></Placemark></Folder><GroundOverlay/></Document></kml>`;
    const all = await told(strToU8(text), "t.kml");
    for (const said of [
      /“depth” was left out \(places: 1\)/,
      /“address”/,
      /looks and views were left out: 1/,
      /Pictures/,
      /folders/,
    ])
      expect(all).toMatch(said);
  });

  it("of GeoJSON and tables: members and columns by name", async () => {
    const text = `{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::25832"}},"maker":1,
      "features":[{"type":"Feature","properties":{"depth":3},"geometry":{"type":"Point","coordinates":[1,2]}}]}`;
    const all = await told(strToU8(text), "t.geojson");
    for (const said of [/“depth” was left out \(features: 1\)/, /“maker” of the file/, /EPSG::25832/])
      expect(all).toMatch(said);
    expect(await told(strToU8("name,lat,lon,depth\nA,1,2,3\n"), "t.csv")).toMatch(/1 \(“depth”\)/);
  });
});
