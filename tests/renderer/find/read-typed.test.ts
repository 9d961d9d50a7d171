import { describe, expect, test } from "vitest";
import { inverse } from "../../../core/geodesy/geodesic.ts";
import { gridOf } from "../../../core/geodesy/grid.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { type Reading, readTyped } from "../../../renderer/find/read-typed.ts";
import { positionLines, positionText } from "../../../renderer/find/position-texts.ts";
import { num, readRows } from "../../fixtures/geodesy/read-rows.ts";

const plain = (text: string): string => text.replaceAll("\u00a0", " ");
const reading = (change: Partial<Reading> = {}): Reading => ({
  near: null,
  notation: "mgrs",
  grids: [],
  gridName: null,
  ...change,
});
const apart = (a: LonLat, b: LonLat): number => inverse(a, b).distanceM;

// tests/fixtures/geodesy/utm.tsv: GeoConvert -u -p 3 and -m -p 0 of GeographicLib 2.1.2.
describe("what GeoConvert writes is read to where GeoConvert had it from, and written alike", () => {
  for (const row of readRows("utm.tsv")) {
    const at: LonLat = [num(row, "lon_deg"), num(row, "lat_deg")];
    const zone = num(row, "zone");
    const side = row["hemisphere"] === "N" ? "north" : "south";
    const name = zone === 0 ? "UPS" : zone;
    test(`${row["id"]}: ${row["note"]}`, () => {
      const utm = `${name} ${side} ${num(row, "easting_m").toFixed(3)} ${num(row, "northing_m").toFixed(3)}`;
      // The table's degrees have six decimals: 0.06 m.
      expect(apart(readTyped(utm, reading()).lonLat, at)).toBeLessThan(0.06);
      const mgrs = readTyped(row["mgrs_1m"] as string, reading());
      // The reference names a square of a metre, of which the middle is taken.
      expect(mgrs.precisionM).toBe(1);
      expect(apart(mgrs.lonLat, at)).toBeLessThan(0.8);
      expect(positionText(at, "mgrs", reading()).replaceAll(" ", "")).toBe(row["mgrs_1m"]);
    });
  }
});

// tests/fixtures/geodesy/grids.tsv: gdaltransform with PROJ 9.1 and the same constants.
test("the British grid by its word, by being chosen, and back", () => {
  const rows = readRows("grids.tsv").filter((row) => row["grid"] === "british");
  expect(rows.length).toBeGreaterThan(3);
  for (const row of rows) {
    const at: LonLat = [num(row, "lon_deg"), num(row, "lat_deg")];
    const text = positionText(at, "british", reading());
    const digits = text.slice(3).split(" ");
    expect(Number(digits[0])).toBe(Math.floor(num(row, "easting_m") % 100_000));
    expect(Number(digits[1])).toBe(Math.floor(num(row, "northing_m") % 100_000));
    for (const read of [
      readTyped(`british ${text}`, reading()),
      readTyped(`OSGB36: ${text.replaceAll(" ", "")}`, reading()),
      readTyped(text, reading({ notation: "british" })),
    ])
      // A square of a metre: its middle lies 0.71 m from its corners; the shift itself goes both ways within 1 cm.
      expect(apart(read.lonLat, at)).toBeLessThan(0.73);
  }
});

describe("two letters and figures", () => {
  const inBritain: LonLat = [1.716, 52.657];
  test("on a map in Britain they are British where no square of MGRS is so called around", () => {
    const read = readTyped("TG 514 131", reading({ near: inBritain }));
    expect(read.notation).toBe("british");
    expect(plain(read.readAs)).toBe("Read as TG 514 131 on the British grid, a square of 100 m.");
  });
  test("elsewhere they are the map's own", () => {
    const read = readTyped("MT 654 471", reading({ near: [8.54, 47.37] }));
    expect(read.notation).toBe("mgrs");
    expect(plain(read.readAs)).toBe("Read as 32T MT 654 471, a square of 100 m.");
  });
  test("without a map, or where both could be meant, the person is asked", () => {
    expect(() => readTyped("TG 514 131", reading())).toThrow(/British reference or an MGRS/);
    // ND is Caithness on the British grid; echo "57.5 -7.5" | GeoConvert -m -p -5 gives 29VND.
    expect(() => readTyped("ND 350 450", reading({ near: [-7.3, 57.5] }))).toThrow(
      /British reference or an MGRS/,
    );
  });
});

describe("a grid of one's own", () => {
  const definition = "+proj=utm +zone=32 +ellps=intl +towgs84=-87,-98,-121 +units=m";
  const grids = [{ name: "Old sheet", definition }];
  const near: LonLat = [8.54, 47.37];
  const [e, n] = gridOf("", definition).projection.forward(near);
  const pair = `${e.toFixed(2)} ${n.toFixed(2)}`;
  test("chosen, bare figures are meant in it", () => {
    const read = readTyped(pair, reading({ grids, gridName: "Old sheet", notation: "grid", near }));
    expect(apart(read.lonLat, near)).toBeLessThan(0.02);
    expect(plain(read.readAs)).toContain("easting and northing in Old sheet");
  });
  test("not chosen, it is named before a colon", () => {
    expect(apart(readTyped(`old sheet: ${pair}`, reading({ grids })).lonLat, near)).toBeLessThan(0.02);
    expect(() => readTyped("old sheet: hello", reading({ grids }))).toThrow(/not an easting/);
  });
  test("degrees are still degrees", () => {
    const read = readTyped("47.37 8.54", reading({ grids, gridName: "Old sheet", notation: "grid", near }));
    expect(read.notation).toBe("dd");
  });
});

test("a reference to 100 m is not written to the metre in any notation", () => {
  const { lonLat, precisionM } = readTyped("32T MT 654 471", reading());
  expect(positionLines(lonLat, reading(), "mgrs", precisionM).map(({ text }) => plain(text))).toEqual([
    "32T MT 654 471",
    "32 north 465450 5247150",
    "47.377° N 8.542° E",
    "47° 22.61′ N 8° 32.54′ E",
    "47° 22′ 37″ N 8° 32′ 32″ E",
  ]);
});
