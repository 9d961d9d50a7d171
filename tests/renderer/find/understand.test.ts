import { describe, expect, test } from "vitest";
import { inverse } from "../../../core/geodesy/geodesic.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { type Asked, understand, type Understood } from "../../../renderer/find/understand.ts";

const plain = (text: string): string => text.replaceAll("\u00a0", " ");
const near: LonLat = [-133.18, 46.335];
const A: LonLat = [-133.1925, 46.3418];
const B: LonLat = [-133.194, 46.3343];

const asked = (change: Partial<Asked> = {}): Asked => ({
  near,
  notation: "mgrs",
  grids: [],
  gridName: null,
  date: "2027-05-16",
  declination: { use: "model", printed: null, beyondModel: false },
  north: "true",
  points: [
    { label: "Bunkhouse", letter: "A", lonLat: A },
    { label: "B", letter: "B", lonLat: B },
  ],
  from: 1,
  places: [
    { name: "Lowder Knott", kind: "peak", lonLat: [-133.1878, 46.3305], elevationM: 404, spot: true },
    { name: "Lowder Gill", kind: "stream", lonLat: [-133.19, 46.331], elevationM: null, spot: false },
    { name: "Bàrr Dubh", kind: "peak", lonLat: [-133.2, 46.34], elevationM: 300, spot: true },
  ],
  ...change,
});

function places(text: string, change: Partial<Asked> = {}): readonly Understood[] {
  const meant = understand(text, asked(change));
  if (meant.kind !== "places") throw new Error(`not understood: ${JSON.stringify(meant)}`);
  return meant.places;
}

function fault(text: string, change: Partial<Asked> = {}): { what: string; remedy: string | null } {
  const meant = understand(text, asked(change));
  if (meant.kind !== "fault") throw new Error(`understood: ${JSON.stringify(meant)}`);
  return meant.fault;
}

describe("a leg typed", () => {
  // Inverse problem on WGS 84 by GeodSolve of GeographicLib 2.1.2, as in tests/e2e/draw-walk.test.ts:
  // 46.3418 -133.1925 to 46.3343 -133.1940: azimuth -172.11280672, distance 841.645 m.
  test("on true north it ends where GeodSolve has it", () => {
    const [end] = places("from Bunkhouse 187.88719328 true 841.645 m");
    expect(inverse(end!.lonLat, B).distanceM).toBeLessThan(0.001);
  });
  // Convergence at the start by GeoConvert -c: 1.30788 (grid north east of true).
  test("on grid north it is turned by the convergence", () => {
    const [end] = places("from A 186.57931 grid 841.645 m");
    expect(inverse(end!.lonLat, B).distanceM).toBeLessThan(0.001);
  });
  test("on magnetic north by the declination that rules: here one printed on the map, 15° E", () => {
    const declination = {
      use: "printed",
      printed: { valueDeg: 15, of: "declination", year: 2027, annualChangeDeg: 0 },
      beyondModel: false,
    } as const;
    const [end] = places("A 172.88719328 841.645 m", { north: "magnetic", declination });
    expect(inverse(end!.lonLat, B).distanceM).toBeLessThan(0.001);
    expect(end!.how.join(" ")).toContain("as printed on the map");
  });
  test("without a start it counts from the point that counts; without a walk it says so", () => {
    expect(plain(places("90 100 m")[0]!.readAs)).toBe("From B on 90° true for 100 m.");
    expect(fault("90 100 m", { points: [], from: null }).what).toMatch(/no point for the leg to start from/);
  });
  test("no declination, no magnetic leg", () => {
    expect(fault("90 mag 100 m", { date: "1850-01-01" }).remedy).toContain("grid");
  });
});

describe("names", () => {
  test("points by letter or name first when whole, then what begins so, the nearest first", () => {
    expect(places("a").map(({ title }) => title)[0]).toBe("Bunkhouse");
    expect(places("lowder").map(({ title, kind }) => `${title}, ${kind}`)).toEqual([
      "Lowder Knott, summit",
      "Lowder Gill, stream",
    ]);
    expect(places("gill").map(({ title }) => title)).toEqual(["Lowder Gill"]);
  });
  test("accents need not be typed", () => expect(places("barr")[0]!.title).toBe("Bàrr Dubh"));
  test("of a stream the place is said to be rough", () => {
    expect(places("lowder gill")[0]!.how).toEqual([
      "The place is somewhere about the middle of Lowder Gill.",
    ]);
    expect(places("lowder knott")[0]!.how).toEqual([]);
  });
  test("a name there is not", () => expect(fault("Nowhere Hill").what).toMatch(/such a name/));
});

// What is wrong and what to do, one sentence each.
test.each([
  ["91 N 10 E", /Latitude 91° does not exist/],
  ["61T MT 654 471", /zone 61 does not exist/],
  ["48Q UJ 1234 567", /4 figures and the northing 3|cannot be halved|7/],
  ["12 34", /latitude and longitude or a grid reference/],
  ["NaN, 3", /not understood/],
] as const)("%j is refused with the reason", (text, reason) => expect(fault(text).what).toMatch(reason));

test("nothing typed is nothing wrong", () => expect(understand("  ", asked())).toEqual({ kind: "nothing" }));
