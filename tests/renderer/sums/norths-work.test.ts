import { describe, expect, test } from "vitest";
import type { LonLat } from "../../../core/units/position.ts";
import {
  type BearingAnswer,
  bearingsOf,
  northsAt,
  northsRestOn,
  rulesOf,
} from "../../../renderer/sums/norths-work.ts";
import type { Worked } from "../../../renderer/sums/worked.ts";
import { num, readRows } from "../../fixtures/geodesy/read-rows.ts";

const MODEL = { use: "model", printed: null, beyondModel: false } as const;
/** A map whose margin prints a grid–magnetic angle for the very day: nothing to bring to date. */
const printedGm = (valueDeg: number) =>
  ({
    date: "2026-01-01",
    declination: {
      use: "printed",
      printed: { valueDeg, of: "gridMagnetic", year: 2026, annualChangeDeg: 0 },
      beyondModel: false,
    },
  }) as const;

const plain = (text: string): string => text.replaceAll("\u00a0", " ");
function answer(of: Worked<BearingAnswer>): BearingAnswer {
  if (of.kind !== "answer") throw new Error(`no answer: ${JSON.stringify(of)}`);
  return of.value;
}

// Source: US Army Soldier's Manual of Common Tasks (STP 21-1-SMCT): with a G-M angle of 9° east, magnetic 190° is
// grid 199°: nine degrees are added.
test("the handbook's 9° east: bearing, rule and working agree", () => {
  const norths = northsAt([8.54, 47.37], null, printedGm(9));
  const of = bearingsOf("190", "magnetic", norths);
  expect(answer(of).on.grid).toBe("199.0°");
  expect(plain(rulesOf(norths)[0] ?? "")).toBe(
    "Off the grid: map to compass: subtract 9.0°; compass to map: add 9.0°, because magnetic north lies 9.0° E of grid north.",
  );
  expect(answer(bearingsOf("199", "grid", norths)).on.magnetic).toBe("190.0°");
  expect(answer(of).back.magnetic).toBe("10.0°");
});

// tests/fixtures/geodesy/utm.tsv: GeoConvert -c -p 6 of GeographicLib 2.1.2.
test("convergence of every place is GeoConvert's", () => {
  for (const row of readRows("utm.tsv")) {
    const at: LonLat = [num(row, "lon_deg"), num(row, "lat_deg")];
    // At a pole every direction is one meridian or another.
    if (Math.abs(at[1]) === 90) continue;
    const { convergenceDeg } = northsAt(at, null, { date: "2026-01-01", declination: MODEL });
    expect(Math.abs(convergenceDeg - num(row, "convergence_deg")), row["id"]).toBeLessThan(1e-5);
  }
});

// Metamorphic: the sums written beside an answer lead to it, within the tenth that is shown.
test("each sum's working adds up", () => {
  const norths = northsAt([-133.18, 46.335], 300, { date: "2027-05-16", declination: MODEL });
  for (const north of ["magnetic", "grid", "true"] as const) {
    const of = bearingsOf("51", north, norths);
    expect(of.kind).toBe("answer");
    if (of.kind !== "answer") continue;
    expect(of.how.length).toBe(2);
    for (const line of of.how) {
      const [, from, sign, turn, to] = /^([\d.]+)° \w+ ([+−]) ([\d.]+)° = ([\d.]+)° \w+\.$/.exec(line) ?? [];
      const sum = sign === "+" ? Number(from) + Number(turn) : Number(from) - Number(turn);
      expect(Math.abs(sum - Number(to)), line).toBeLessThan(0.11);
    }
  }
});

// By hand: 6400 mils are 360°: 51.1875° are 910 mils; N 40° W is 320°.
test("in mils and by quadrant", () => {
  const norths = northsAt([8.54, 47.37], null, printedGm(0));
  expect(plain(answer(bearingsOf("910 mils", "grid", norths)).mils)).toBe("910 mils");
  expect(plain(answer(bearingsOf("320", "grid", norths)).quadrant)).toBe("N 40° W");
});

describe("without a declination", () => {
  const norths = northsAt([8.54, 47.37], null, { date: "1850-01-01", declination: MODEL });
  test("true and grid go on, magnetic says why not", () => {
    expect(answer(bearingsOf("90", "true", norths)).on.magnetic).toBeNull();
    const of = bearingsOf("90", "magnetic", norths);
    expect(of.kind === "fault" && of.fault.what).toMatch(/Without a declination/);
    expect(rulesOf(norths)).toEqual([]);
    expect(northsRestOn(norths, "1850-01-01").join(" ")).toMatch(/1850/);
  });
});
