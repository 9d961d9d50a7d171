/** Files damaged in twenty thousand ways end in candidates or in one Fault with a place, soon. */
import { describe, expect, it } from "vitest";
import { READ_LIMITS, type ReadOptions } from "../../../core/exchange/exchange.ts";
import { datumFrame, gridFrame } from "../../../core/exchange/file-frame.ts";
import { readExchange } from "../../../core/exchange/read-exchange.ts";
import { walkFrom } from "../../../core/exchange/walk-from.ts";
import { USUAL_PARTS } from "../../../core/exchange/parts.ts";
import { PLAIN_DIALECT } from "../../../core/exchange/write-csv.ts";
import { EXCHANGE_FORMATS, writeExchange } from "../../../core/exchange/write-exchange.ts";
import { britishGrid, nad27Utm } from "../../../core/geodesy/grid.ts";
import { Fault } from "../../../core/fault.ts";
import { bytesOf, fixture, walkOf } from "./support.ts";

const WAYS = 20_000;
const MOST_MS = 2_000;

/** Mulberry32: the same seed damages the same bytes. */
function dice(seed: number): (below: number) => number {
  let a = seed;
  return (below) => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return Math.floor((((t ^ (t >>> 14)) >>> 0) / 2 ** 32) * below);
  };
}

const walk = walkOf("Over & under", "n", [
  ["Start", 10, 60, "=x"],
  [null, 10.1, 60.1],
  ["End", 10.2, 60],
]);
const SEEDS: readonly (readonly [name: string, bytes: Uint8Array])[] = [
  ...EXCHANGE_FORMATS.map(
    (format) =>
      [
        `w.${format}`,
        bytesOf(
          writeExchange(
            walk,
            format,
            { ...USUAL_PARTS, track: walk.points.map(({ lonLat }) => ({ lonLat, heightM: 1 })) },
            PLAIN_DIALECT,
          ),
        ),
      ] as const,
  ),
  ...[
    "gdal.gpx",
    "gxtrack.kml",
    "multigeometry.kml",
    "written-by-gdal.kmz",
    "written-by-gdal-semicolon.csv",
  ].map((name) => [name, fixture(name)] as const),
];
/** Pieces that mean something in one of the formats. */
const PIECES = [
  "<",
  ">",
  "</",
  "<wpt lat='1' lon='2'>",
  "<trk>",
  "<Placemark>",
  "<LineString>",
  "<coordinates>",
  "&x;",
  "<!DOCTYPE a [",
  "<![CDATA[",
  "{",
  "[",
  "]",
  "null",
  "1e999",
  "-",
  "NaN",
  '"',
  "'",
  ",",
  ";",
  "\n",
  "\t",
  "\0",
  "\ufeff",
  "PK\u0003\u0004",
  "181",
  "91",
  "lat=''",
  "\\ud800",
].map((piece) => new TextEncoder().encode(piece));

const joined = (...parts: Uint8Array[]): Uint8Array => {
  const all = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
};

function damaged(bytes: Uint8Array, roll: (below: number) => number): Uint8Array {
  let out: Uint8Array = bytes.slice();
  for (let times = 1 + roll(2); times > 0 && out.length > 0; times--) {
    const [at, to] = [roll(out.length), roll(out.length)].sort((a, b) => a - b) as [number, number];
    const way = roll(7);
    if (way === 0) out[at] = roll(256);
    else if (way === 1) out[at] = (out[at] as number) ^ (1 << roll(8));
    else if (way === 2) out = out.slice(0, at);
    else if (way === 3)
      out = joined(out.subarray(0, at), PIECES[roll(PIECES.length)] as Uint8Array, out.subarray(at));
    else if (way === 4) out = joined(out.subarray(0, at), out.subarray(to));
    else if (way === 5) out = joined(out.subarray(0, to), out.subarray(at));
    else {
      // Another figure in place of a figure: still a number, elsewhere.
      const digit = out.findIndex((byte, i) => i >= at && byte >= 0x30 && byte <= 0x39);
      if (digit >= 0) out[digit] = 0x30 + roll(10);
    }
  }
  return out;
}

/** Whatever a person may say of a file, right or wrong. */
function anyOptions(roll: (below: number) => number): ReadOptions {
  const one = <T>(...of: readonly T[]): T => of[roll(of.length)] as T;
  if (roll(2) === 0) return READ_LIMITS;
  return {
    ...READ_LIMITS,
    exchanged: one(null, true, false),
    near: one(null, [9, 59, 11, 61] as const, [59, 9, 61, 11] as const),
    encoding: one(null, null, "utf-8", "utf-16le", "windows-1252", "shift_jis"),
    frame: one(null, null, datumFrame("nad27"), gridFrame(britishGrid()), gridFrame(nad27Utm(32), 0.3048)),
    table: one(null, {
      separator: one(null, ",", ";", "\t"),
      decimal: one(null, ".", ","),
      header: one(null, true, false),
      columns: one(
        null,
        { lat: 1, lon: 2 },
        { easting: 1, northing: 2 },
        { reference: roll(5) },
        { name: 0 },
      ),
    } as const),
  };
}

describe("damaged files", () => {
  it(`of ${WAYS} kinds give candidates or one fault with a place, within two seconds each`, async () => {
    const roll = dice(20261126);
    let faults = 0;
    let slowest = 0;
    for (let n = 0; n < WAYS; n++) {
      const [name, bytes] = SEEDS[n % SEEDS.length]!;
      const began = performance.now();
      try {
        const exchange = await readExchange(damaged(bytes, roll), name, anyOptions(roll));
        expect(exchange.candidates.length).toBeGreaterThan(0);
        walkFrom(exchange, { pick: 0, toleranceM: 10, date: "2026-05-16", fallbackTitle: "f" });
      } catch (error) {
        if (!(error instanceof Fault)) throw new Error(`${name}, way ${n}`, { cause: error });
        expect(["bad-features", "bad-argument"]).toContain(error.code);
        expect(error.where, error.message).not.toBeNull();
        faults++;
      }
      slowest = Math.max(slowest, performance.now() - began);
    }
    expect(slowest).toBeLessThan(MOST_MS);
    // Both ends are reached, or the damage is too slight or too gross to tell anything.
    expect(faults).toBeGreaterThan(WAYS / 10);
    expect(faults).toBeLessThan((WAYS * 9) / 10);
  }, 180_000);
});
