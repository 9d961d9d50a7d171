/**
 * Areas of other programs, as the line around each. Held to GDAL's reading of the same file (fixtures/exchange/README.md), to RFC
 * 7946 §3.1.6 (the first ring of a polygon is its outer edge, others are holes, each ends where it begins) and to KML 2.3
 * §10.8 (outerBoundaryIs, innerBoundaryIs).
 */
import { describe, expect, it } from "vitest";
import { readExchange } from "../../../core/exchange/read-exchange.ts";
import { walkFrom } from "../../../core/exchange/walk-from.ts";
import { fixture, thereAndBack } from "./support.ts";

const read = (text: string, name: string) => readExchange(new TextEncoder().encode(text), name);
const choice = { pick: 0, toleranceM: null, date: "2026-05-16", fallbackTitle: "w" };
type Ring = [number, number][];
const EDGE: Ring = [[-133, 46], [-132.9, 46], [-132.9, 46.1], [-133, 46]]; // prettier-ignore
const HOLE: Ring = [[-132.95, 46.01], [-132.92, 46.02], [-132.92, 46.01], [-132.95, 46.01]]; // prettier-ignore
const feature = (geometry: object): string =>
  JSON.stringify({ type: "Feature", properties: { name: "Moss" }, geometry });

describe("an area", () => {
  it("of KML gives the edge that GDAL finds, and says what became of its hole", async () => {
    const gdal = JSON.parse(new TextDecoder().decode(fixture("read-by-gdal.json"))) as Record<
      string,
      { name: string; lines: Ring[] }[]
    >;
    const [theirs] = gdal["polygon.kml"]!;
    const { candidates, report } = await readExchange(fixture("polygon.kml"), "polygon.kml");
    expect(candidates.map(({ kind, name }) => [kind, name])).toEqual([["outline", theirs!.name]]);
    expect(candidates[0]!.positions).toEqual(theirs!.lines[0]);
    expect(report.join(" ")).toMatch(/the line around each: 1\..*Holes in areas were left out: 1\./);
  });

  it("of GeoJSON gives its first ring, each part of several its own", async () => {
    const one = await read(feature({ type: "Polygon", coordinates: [EDGE, HOLE] }), "a.geojson");
    expect(one.candidates).toMatchObject([{ kind: "outline", name: "Moss", positions: EDGE }]);
    expect(one.report.join(" ")).toMatch(/Holes in areas were left out: 1\./);
    const two = await read(feature({ type: "MultiPolygon", coordinates: [[EDGE], [HOLE]] }), "b.geojson");
    expect(two.candidates.map(({ positions }) => positions)).toEqual([EDGE, HOLE]);
  });

  it("comes after the lines of its file, and a bare ring of KML is a line as it stands", async () => {
    const text = (ring: Ring): string => ring.map((at) => at.join()).join(" ");
    const kml = `<kml><Document><Placemark><Polygon><outerBoundaryIs><LinearRing><coordinates>${text(EDGE)}</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark>
      <Placemark><LinearRing><coordinates>${text(HOLE)}</coordinates></LinearRing></Placemark></Document></kml>`;
    const { candidates } = await read(kml, "a.kml");
    expect(candidates.map(({ kind, positions }) => [kind, positions])).toEqual([
      ["line", HOLE],
      ["outline", EDGE],
    ]);
  });

  it("whose edge stops short is closed, and that is said", async () => {
    const { candidates, report } = await read(
      feature({ type: "Polygon", coordinates: [EDGE.slice(0, 3)] }),
      "a.geojson",
    );
    expect(candidates[0]!.positions).toEqual(EDGE);
    expect(report.join(" ")).toMatch(/closed: 1\./);
  });

  it("becomes a walk that ends where it starts, and goes there and back as a line from then on", async () => {
    const exchange = await readExchange(fixture("polygon.kml"), "polygon.kml");
    const { walk } = walkFrom(exchange, choice);
    const places = walk.points.map(({ lonLat }) => lonLat);
    expect(places).toHaveLength(5);
    expect(places.at(-1)).toEqual(places[0]);
    for (const format of ["gpx", "kml", "geojson"] as const)
      expect(
        (await thereAndBack(walk, format)).points.map(({ lonLat }) => lonLat),
        format,
      ).toEqual(places);
    // Thinned, it still goes around.
    const thinned = walkFrom(exchange, { ...choice, toleranceM: 30 }).walk.points;
    expect(thinned.length).toBeGreaterThan(2);
    expect(thinned.at(-1)!.lonLat).toEqual(thinned[0]!.lonLat);
  });

  it("without an edge is no walk", async () => {
    await expect(read(feature({ type: "Polygon", coordinates: [] }), "a.geojson")).rejects.toMatchObject({
      code: "bad-features",
    });
  });
});
