import { zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { bytesFile, type FeatureFile, noTick } from "../../../../core/files/feature-file.ts";
import { readGpx } from "../../../../core/mapmaking/features-in/gpx.ts";
import { readKml } from "../../../../core/mapmaking/features-in/kml.ts";
import {
  type Collected,
  collect,
  faultOf,
  fixture,
  fixtureBytes,
  fixtureJson,
  fixturePath,
  gdalFeatures,
  HAS_GDAL,
  readAll,
  textFile,
} from "./support.ts";

interface Told {
  readonly name: string | null;
  readonly geometry: { readonly type: string; readonly coordinates: unknown } | null;
}
/** What GDAL 3.6.2 reads of the same files; how it was transcribed stands in the folder of fixtures. */
const gdal = fixtureJson("walk-gdal.json") as Record<"waypoints" | "routes" | "tracks" | "kml", Told[]>;

const gpx = (file: FeatureFile): Promise<Collected> =>
  collect((emit, passed) => readGpx(file, emit, passed, noTick));
const kml = (file: FeatureFile): Promise<Collected> =>
  collect((emit, passed) => readKml(file, emit, passed, noTick));
const coordsOf = ({ features }: Collected, k: number): number[] => [
  ...(features[k]!.shape as { coords: Float64Array }).coords,
];

describe("GPX against GDAL's reading of it", () => {
  it("has the same waypoints", async () => {
    const read = await gpx(fixture("walk.gpx"));
    expect(read.features[0]!.tags).toEqual({ gpx: "waypoint", name: gdal.waypoints[0]!.name, ele: "812.5" });
    expect([0, 1].map((k) => coordsOf(read, k))).toEqual(
      gdal.waypoints.map(({ geometry }) => geometry!.coordinates),
    );
  });

  it("has the same route and the same parts of the track, without the empty one", async () => {
    const read = await gpx(fixture("walk.gpx"));
    const [route] = gdal.routes;
    expect(coordsOf(read, 2)).toEqual((route!.geometry!.coordinates as number[][]).flat());
    const parts = (gdal.tracks[0]!.geometry!.coordinates as number[][][]).filter((part) => part.length > 0);
    expect([coordsOf(read, 3), coordsOf(read, 4)]).toEqual(parts.map((part) => part.flat()));
    expect(read.features[3]!.tags).toEqual({ gpx: "track", name: gdal.tracks[0]!.name, type: "walk" });
    expect(read.features).toHaveLength(5);
    expect(read.passed.noShape).toBe(1);
  });

  it("becomes paths and names of the map", async () => {
    const { report } = await readAll([fixture("walk.gpx")]);
    expect(report.roles).toEqual({ name: 1, path: 3 });
    expect(report.unmapped).toEqual([{ what: "gpx=waypoint", count: 1 }]);
  });
});

describe("KML against GDAL's reading of it", () => {
  it("has the same placemarks", async () => {
    const read = await kml(fixture("walk.kml"));
    const told = (name: string): unknown => gdal.kml.find((one) => one.name === name)!.geometry;
    const two = (coordinates: unknown): number[] => (coordinates as number[][]).flatMap((p) => p.slice(0, 2));
    expect(read.features.map(({ tags }) => [tags["name"], tags["kml"], tags["folder"]])).toEqual([
      ["East fence", "line", "Fences"],
      ["Gate", "point", undefined],
      ["Tarn", "area", undefined],
      ["Tarn", "point", undefined],
      ["Recorded", "track", undefined],
    ]);
    expect(coordsOf(read, 0)).toEqual(two((told("East fence") as { coordinates: unknown }).coordinates));
    expect(coordsOf(read, 1)).toEqual(two([(told("Gate") as { coordinates: unknown }).coordinates]));
    const [polygon] = (told("Tarn") as { geometries: { coordinates: number[][][] }[] }).geometries;
    const { shape } = read.features[2]!;
    expect(
      shape.type === "area" ? shape.polygons.map((rings) => rings.map((ring) => [...ring])) : null,
    ).toEqual([polygon!.coordinates.map((ring) => ring.flat())]);
    expect(coordsOf(read, 4)).toEqual(two((told("Recorded") as { coordinates: unknown }).coordinates));
    expect(told("Nowhere")).toBeNull();
    expect(read.passed.noShape).toBe(1);
  });

  it("is guessed by its folder, and else by what it is", async () => {
    const { report } = await readAll([fixture("walk.kml")]);
    expect(report.roles).toEqual({ fence: 1, name: 2, path: 1 });
    expect(report.guessed).toEqual([{ what: "layer “Fences” as barrier=fence", count: 1 }]);
    expect(report.unmapped).toEqual([{ what: "kml=area", count: 1 }]);
  });

  it("is read out of a KMZ", async () => {
    const kmz = zipSync({
      "doc.kml": fixtureBytes("walk.kml"),
      "files/other.kml": fixtureBytes("walk.kml"),
      "a.png": new Uint8Array(9),
    });
    const { report } = await readAll([bytesFile("walk.kmz", kmz)]);
    expect(report.files.map(({ name, features }) => [name, features])).toEqual([["walk.kmz/doc.kml", 5]]);
  });
});

describe("XML that is not right", () => {
  const wpt = (lat: string): string => `<gpx><wpt lat="${lat}" lon="1"/></gpx>`;
  it.each<[string, string, string, RegExp]>([
    ["a latitude that is none", "a.gpx", `<gpx>\n${wpt("x").slice(5)}`, /no pair of numbers.*a\.gpx, line 2/],
    ["a latitude beyond the pole", "a.gpx", wpt("91"), /latitude first|no place/],
    ["XML cut short", "a.gpx", "<gpx><trk>", /XML is broken.*a\.gpx/],
    ["elements that do not fit", "a.gpx", "<gpx><trk></rte></gpx>", /XML is broken.*line 1/],
    [
      "an entity of its own",
      "a.kml",
      '<!DOCTYPE kml [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><kml><Placemark><name>&b;</name></Placemark></kml>',
      /XML is broken/,
    ],
    [
      "an entity from elsewhere",
      "a.kml",
      '<!DOCTYPE kml [<!ENTITY x SYSTEM "file:///etc/hostname">]><kml><Placemark><name>&x;</name></Placemark></kml>',
      /XML is broken/,
    ],
    ["elements without end inside one another", "a.kml", `<kml>${"<Folder>".repeat(500)}`, /256 elements/],
    ["an encoding nobody knows", "a.gpx", '<?xml version="1.0" encoding="klingon"?><gpx/>', /klingon/],
    [
      "coordinates that are none",
      "a.kml",
      "<kml><Placemark><Point>\n<coordinates>no</coordinates></Point></Placemark></kml>",
      /“no”.*a\.kml, line 2/,
    ],
    ["another kind of XML", "a.gpx", "<svg></svg>", /no GPX/],
  ])("is one fault that names the line: %s", async (_, name, text, message) => {
    const fault = await faultOf(readAll([textFile(name, text)]));
    expect(fault.code).toBe("bad-features");
    expect(fault.message).toMatch(message);
  });

  it("is read in the encoding it names", async () => {
    const text =
      '<?xml version="1.0" encoding="ISO-8859-1"?><gpx><wpt lat="1" lon="2"><name>Süd</name></wpt></gpx>';
    const latin = Uint8Array.from(text, (c) => c.charCodeAt(0));
    expect((await gpx(bytesFile("a.gpx", latin))).features[0]!.tags["name"]).toBe("Süd");
    const wide = text.replace("ISO-8859-1", "UTF-16");
    const both = new Uint8Array(2 * (wide.length + 1));
    Array.from({ length: both.length / 2 }, (_, i) => `\ufeff${wide}`.charCodeAt(i)).forEach((code, i) =>
      both.set([code & 255, code >> 8], 2 * i),
    );
    expect((await readAll([bytesFile("a.gpx", both)])).features[0]!.attributes["name"]).toBe("Süd");
  });
});

describe.skipIf(!HAS_GDAL)("GPX read by the GDAL that is here (ogr2ogr)", () => {
  it.each(["waypoints", "routes", "tracks"] as const)("gives the transcribed %s", (layer) => {
    expect(gdalFeatures(fixturePath("walk.gpx"), layer).map(({ geometry }) => geometry)).toEqual(
      gdal[layer].map(({ geometry }) => geometry),
    );
  });
});
