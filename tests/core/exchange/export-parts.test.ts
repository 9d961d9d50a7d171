/** What goes along, what a format does not carry, and that what was written is read again before it is kept. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkWritten } from "../../../core/exchange/check-written.ts";
import { groundTrack, pointHeights } from "../../../core/exchange/ground-track.ts";
import { notCarried } from "../../../core/exchange/not-carried.ts";
import { type ExchangeParts, USUAL_PARTS } from "../../../core/exchange/parts.ts";
import { readExchange } from "../../../core/exchange/read-exchange.ts";
import { PLAIN_DIALECT } from "../../../core/exchange/write-csv.ts";
import { EXCHANGE_FORMATS, exchangeText, writeExchange } from "../../../core/exchange/write-exchange.ts";
import { inverse } from "../../../core/geodesy/geodesic.ts";
import type { LegFigures } from "../../../core/legs/figures.ts";
import { anyWalk, bytesOf, walkOf } from "./support.ts";

const walk = walkOf("Round", "all of it", [
  ["Ford", 10, 60, "wet"],
  [null, 10.01, 60],
  ["Hut", 10.02, 60.01, "key: ask"],
]);

/** A leg with a height every 4 m. */
function leg(from: readonly [number, number], to: readonly [number, number], lowest: number): LegFigures {
  const { distanceM, bearing } = inverse(from, to);
  const at = Float64Array.from({ length: Math.floor(distanceM / 4) + 2 }, (_, i) =>
    Math.min(4 * i, distanceM),
  );
  return {
    fromLonLat: from,
    toLonLat: to,
    bearingTrueDeg: bearing,
    profile: { distanceM: at, elevationM: at.map((d, i) => (i === 30 ? Number.NaN : lowest + d / 10)) },
  } as unknown as LegFigures;
}

describe("the ground along a walk", () => {
  const [a, b, c] = walk.points.map(({ lonLat }) => lonLat) as [
    [number, number],
    [number, number],
    [number, number],
  ];
  const legs = [leg(a, b, 100), leg(b, c, 200)];

  it("lies on its legs, ten metres apart at least, with the heights of the profile", () => {
    const places = groundTrack(legs);
    expect([places[0]!.lonLat, places.at(-1)!.lonLat]).toEqual([a, c]);
    expect(places.filter(({ lonLat }) => lonLat === b)).toHaveLength(1);
    for (let i = 1; i < places.length; i++)
      expect(inverse(places[i - 1]!.lonLat, places[i]!.lonLat).distanceM).toBeGreaterThan(9.999);
    for (const { lonLat, heightM } of places.slice(0, 20))
      if (heightM !== null) expect(heightM).toBeCloseTo(100 + inverse(a, lonLat).distanceM / 10, 6);
    expect(pointHeights(legs)[0]).toBe(100);
    expect(pointHeights(legs)).toHaveLength(3);
    expect(groundTrack([])).toEqual([]);
  });

  it("is carried by every format that has lines, heights as each has them", async () => {
    const parts = { ...USUAL_PARTS, track: groundTrack(legs), heightsM: [1.25, null, -3] };
    for (const format of EXCHANGE_FORMATS) {
      const text = exchangeText(walk, format, parts, PLAIN_DIALECT);
      await checkWritten(
        writeExchange(walk, format, parts, PLAIN_DIALECT),
        walk,
        format,
        parts,
        PLAIN_DIALECT,
      );
      if (format === "gpx") expect(text).toMatch(/<wpt lat="60" lon="10"><ele>1\.3<\/ele><name>Ford/);
      if (format === "kml") expect(text).toContain("<coordinates>10,60,1.3</coordinates>");
      if (format === "csv")
        expect(text).toMatch(/^name,lat,lon,ele,note\r\nFord,60,10,1\.3,wet\r\nB,60,10\.01,,\r\n/);
      // RFC 7946, 3.1.1: a third coordinate would be a height above the ellipsoid.
      if (format === "geojson") {
        const { features } = JSON.parse(text);
        expect(features[0]).toMatchObject({
          properties: { elevationM: 1.3 },
          geometry: { coordinates: [10, 60] },
        });
        expect(features.at(-1).properties.elevationM).toHaveLength(parts.track.length);
      }
    }
  });
});

describe("parts", () => {
  const only = (parts: Partial<ExchangeParts>): ExchangeParts => ({
    ...USUAL_PARTS,
    points: false,
    legs: false,
    ...parts,
  });

  it("are left off as asked", async () => {
    const kinds = async (parts: ExchangeParts) =>
      (await readExchange(bytesOf(writeExchange(walk, "gpx", parts, PLAIN_DIALECT)), "w.gpx")).candidates.map(
        ({ kind }) => kind,
      );
    expect(await kinds(only({ points: true }))).toEqual(["points"]);
    expect(await kinds(only({ legs: true }))).toEqual(["route"]);
    expect(await kinds(only({ track: [{ lonLat: [1, 2], heightM: 3 }] }))).toEqual(["track"]);
    for (const format of EXCHANGE_FORMATS)
      expect(exchangeText(walk, format, { ...USUAL_PARTS, notes: false }, PLAIN_DIALECT)).not.toMatch(
        /wet|all of/,
      );
    expect(() => exchangeText(walk, "kml", only({}), PLAIN_DIALECT)).toThrow(/Nothing is to go along/);
    const one = walkOf("One", "", [["Ford", 10, 60]]);
    expect(() => exchangeText(one, "kml", only({ legs: true }), PLAIN_DIALECT)).toThrow(/Nothing is to/);
  });

  it("that a format does not carry are said, and nothing the walk does not have", () => {
    expect(notCarried(walk, "gpx", USUAL_PARTS)).toHaveLength(1);
    const aimed = { ...walk, points: walk.points.map((point) => ({ ...point, aimOff: true })) };
    const told = (format: (typeof EXCHANGE_FORMATS)[number], parts = USUAL_PARTS, of = walk): string =>
      notCarried(of, format, parts).join("\n");
    expect(told("gpx", USUAL_PARTS, aimed)).toMatch(/Aiming off is set on 3 legs/);
    expect(told("csv")).toMatch(/no title, no notes on the walk, no legs/);
    expect(told("kml", only({ legs: true }))).toMatch(/Names and notes of 2 points/);
    expect(told("gpx", { ...USUAL_PARTS, heightsM: [1, null, 2] })).toMatch(/Heights of 1 point is/);
    expect(told("kml", USUAL_PARTS, { ...walk, title: "a\u0001" })).toMatch(/1 text holds/);
    expect(told("geojson", { ...USUAL_PARTS, notes: false })).toMatch(/Notes do not go along/);
  });

  it("of any walk, in any format and dialect, are found as they were written", async () => {
    const anyParts = fc.record({
      points: fc.boolean(),
      legs: fc.boolean(),
      notes: fc.boolean(),
      track: fc.boolean(),
      heights: fc.boolean(),
    });
    const anyDialect = fc.record({
      decimal: fc.constantFrom(".", ","),
      separator: fc.constantFrom(";", "\t"),
      lineEnd: fc.constantFrom("\r\n", "\n"),
      bom: fc.boolean(),
    });
    await fc.assert(
      fc.asyncProperty(
        anyWalk,
        fc.constantFrom(...EXCHANGE_FORMATS),
        anyParts,
        anyDialect,
        fc.boolean(),
        async (any, format, chosen, signs, alone) => {
          const of = alone ? { ...any, points: any.points.slice(0, 1) } : any;
          const table = format === "csv" || format === "tsv";
          const lines = format === "gpx" || of.points.length > 1;
          if (!table && !chosen.points && !(lines && (chosen.legs || chosen.track))) return;
          const heightsM = of.points.map((_, i) => (i % 2 === 0 ? 12.34 : null));
          const parts = {
            points: chosen.points,
            legs: chosen.legs,
            notes: chosen.notes,
            heightsM: chosen.heights ? heightsM : null,
            track: chosen.track
              ? of.points.map(({ lonLat }, i) => ({ lonLat, heightM: heightsM[i] ?? null }))
              : null,
          };
          const dialect = { ...PLAIN_DIALECT, ...signs };
          await checkWritten(writeExchange(of, format, parts, dialect), of, format, parts, dialect);
        },
      ),
      { numRuns: 600, seed: 20261126 },
    );
  });

  it("that were damaged on the way are noticed", async () => {
    const text = exchangeText(walk, "gpx", USUAL_PARTS, PLAIN_DIALECT);
    for (const damaged of [
      text.replaceAll("10.01", "10.02"),
      text.replaceAll("Hut", "Hat"),
      text.replace(/<rtept.*\n<\/rte>/, "</rte>").replace(/<wpt.*\n<rte>/, "<rte>"),
    ])
      await expect(checkWritten(damaged, walk, "gpx", USUAL_PARTS, PLAIN_DIALECT)).rejects.toThrow(
        /not kept/,
      );
  });
});
