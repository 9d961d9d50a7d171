/** Where one may stand after a count, at a line of a kind. */
import { describe, expect, it } from "vitest";
import {
  backOnTrack,
  backOnTrackBox,
  type StoodAt,
  type WalkedFrom,
} from "../../../core/fix/back-on-track.ts";
import { type ReckonedLeg, type ReckoningSettings } from "../../../core/fix/dead-reckoning.ts";
import { usualFixSettings } from "../../../core/fix/sighting.ts";
import { inverse } from "../../../core/geodesy/geodesic.ts";
import type { LineFeature } from "../../../core/map/features.ts";
import type { Kind } from "../../../core/map/kinds.ts";
import { drawn, ground, hills, lineOf, metres, place } from "../legs/support/line-map.ts";
import { evenFrom, normalFrom } from "./support/chance.ts";

const SIDE_DEG = 3;
const PACE = 0.06;
/** Setting error alone, and a pace error of each leg alone: closed forms stay short. */
const SETTINGS: ReckoningSettings = {
  ...usualFixSettings("2026-06-01"),
  spread: {
    startM: 0,
    steering: { settingDeg: SIDE_DEG, hopDeg: 0, hopM: 50 },
    paceSystematic: 0,
    paceRandom: PACE,
  },
  pacesPer100m: 65,
};
const north: ReckonedLeg = { deg: 0, north: "true", length: { paces: 650 } }; // 1000 m
const WALKED: WalkedFrom = { from: place(0, -1000), orUpTo: null, legs: [north] };
const at = (...kinds: Kind[]): StoodAt => ({ kinds: new Set(kinds), clues: [], next: null });
/** Standard deviations at the end of the count, with the 5 m of the map's line. */
const SIDE_M = Math.hypot((1000 * SIDE_DEG * Math.PI) / 180, 5);
const ALONG_M = Math.hypot(1000 * PACE, 5);
const track = (lines: readonly LineFeature[], stood: StoodAt = at("stream"), walked = WALKED) =>
  backOnTrack(walked, stood, ground(lines), SETTINGS);

describe("closed forms of a normal spread cut by straight lines", () => {
  it("a line square across beyond the count", () => {
    const { places, warnings, reckoned } = track([
      drawn(
        "stream",
        [
          [-800, 40],
          [800, 40],
        ],
        "Fern Beck",
      ),
    ]);
    expect(metres(reckoned.at)[0]).toBeCloseTo(0, 2);
    expect(places).toHaveLength(1);
    const [best] = places;
    const [e, n] = metres(best!.at);
    expect(Math.abs(e)).toBeLessThan(0.1);
    expect(n).toBeCloseTo(40, 1);
    expect(best!.alongSdM / SIDE_M).toBeCloseTo(1, 2);
    expect(best!.beyondM).toBeCloseTo(40, 1);
    expect(best!.deviations).toBeCloseTo(40 / ALONG_M, 2);
    expect(best!.probability).toBe(1);
    expect(best!.why).toBe(
      "The stream Fern Beck lies 40 m beyond the end of your count, on your bearing: 0.7 times the usual error.",
    );
    expect(warnings).toEqual([]);
    // 95 % of it: 1.96 standard deviations either way.
    expect(metres(best!.to)[0] - metres(best!.from)[0]).toBeGreaterThan(2 * 1.96 * SIDE_M - 6);
    expect(metres(best!.to)[0] - metres(best!.from)[0]).toBeLessThan(2 * 1.96 * SIDE_M + 6);
  });

  it("a line aslant: where the spread is greatest on it, not where it is nearest", () => {
    // Through (0, 60) at 45°: the place (t, 60 + t) with least (t/σₑ)² + ((60 + t)/σₙ)².
    const { places } = track([
      drawn("stream", [
        [-700, -640],
        [700, 760],
      ]),
    ]);
    const t = -60 / ALONG_M ** 2 / (1 / SIDE_M ** 2 + 1 / ALONG_M ** 2);
    const [e, n] = metres(places[0]!.at);
    expect(e).toBeCloseTo(t, 0);
    expect(n).toBeCloseTo(60 + t, 0);
    const sd = 1 / Math.sqrt((1 / SIDE_M ** 2 + 1 / ALONG_M ** 2) / 2);
    expect(places[0]!.alongSdM / sd).toBeCloseTo(1, 2);
  });

  it("two lines across share the chance as their densities", () => {
    const { places, warnings } = track([
      drawn("stream", [
        [-800, 90],
        [800, 90],
      ]),
      drawn("stream", [
        [-800, -50],
        [800, -50],
      ]),
      drawn("path", [
        [-800, 0],
        [800, 0],
      ]),
    ]);
    const [near, far] = [50, 90].map((d) => Math.exp(-((d / ALONG_M) ** 2) / 2)) as [number, number];
    expect(places.map(({ probability }) => probability)[0]).toBeCloseTo(near / (near + far), 3);
    expect(places[0]!.beyondM).toBeCloseTo(-50, 1);
    expect(places[0]!.why).toMatch(/50 m short of the end of your count/);
    expect(places.every(({ line }) => line.kind === "stream")).toBe(true);
    expect(warnings).toEqual([]);
  });
});

/** Walkers by plain arithmetic, kept when they end within 4 m of a line; as many in 100 on each line as the places say. */
describe("walkers simulated one by one", () => {
  const lines = [
    drawn("stream", [
      [-300, 140],
      [300, -40],
    ]),
    drawn("stream", [
      [60, -300],
      [120, 300],
    ]),
    drawn("stream", [
      [-400, -120],
      [400, -90],
    ]),
  ];
  const ends = [
    [-300, 140, 300, -40],
    [60, -300, 120, 300],
    [-400, -120, 400, -90],
  ] as const;
  const offLine = (e: number, n: number, [a, b, c, d]: (typeof ends)[number]): number => {
    const f = Math.min(
      1,
      Math.max(0, ((e - a) * (c - a) + (n - b) * (d - b)) / ((c - a) ** 2 + (d - b) ** 2)),
    );
    return Math.hypot(e - a - f * (c - a), n - b - f * (d - b));
  };
  const shares = (stretchM: number): number[] => {
    const [even, normal] = [evenFrom(21), normalFrom(22)];
    const stood = [0, 0, 0];
    for (let i = 0; i < 300_000; i++) {
      const e = ((1000 * SIDE_DEG * Math.PI) / 180) * normal() + 5 * normal() + stretchM * even();
      const n = 1000 * PACE * normal() + 5 * normal();
      ends.forEach((line, k) => {
        if (offLine(e, n, line) < 4) stood[k]!++;
      });
    }
    const sum = stood.reduce((a, b) => a + b, 0);
    return stood.map((count) => count / sum);
  };
  const told = (walked: WalkedFrom): number[] => {
    const { places } = backOnTrack(walked, at("stream"), ground(lines), SETTINGS);
    return lines.map((line) =>
      places.filter((p) => p.line === line).reduce((sum, { probability }) => sum + probability, 0),
    );
  };

  it("from a place", () => {
    const told1 = told(WALKED);
    shares(0).forEach((share, k) => expect(told1[k]).toBeCloseTo(share, 1.7));
  });

  it("from somewhere on a stretch of 250 m", () => {
    const stretch = { ...WALKED, orUpTo: place(250, -1000) };
    const told2 = told(stretch);
    shares(250).forEach((share, k) => expect(told2[k]).toBeCloseTo(share, 1.7));
    const [best] = backOnTrack(stretch, at("stream"), ground(lines), SETTINGS).places;
    expect(best!.startedM).toBeGreaterThan(0);
    expect(best!.why).toMatch(/if you left the leg some \d+ m along it/);
  });
});

describe("what is told besides", () => {
  const beck = drawn(
    "stream",
    [
      [-800, 40],
      [800, 40],
    ],
    "Fern Beck",
  );

  it("the bearing and distance to the next point from each place", () => {
    const next = place(500, 500);
    const { places } = track([beck], { ...at("stream"), next });
    const { bearing, distanceM } = inverse(places[0]!.at, next);
    expect(places[0]!.onward).toEqual({ bearing, distanceM });
    // Plane: from (0, 40) to (500, 500).
    expect(distanceM).toBeCloseTo(Math.hypot(500, 460), 0);
    expect(bearing).toBeCloseTo((Math.atan2(500, 460) * 180) / Math.PI, 1);
  });

  it("two about as likely; none within reach; one that is far off", () => {
    const two = track([
      beck,
      drawn("stream", [
        [-800, -45],
        [800, -45],
      ]),
    ]);
    expect(two.warnings.join()).toMatch(/^2 places are about as likely/);
    const none = track([
      drawn("stream", [
        [-800, 900],
        [800, 900],
      ]),
    ]);
    expect(none.places).toEqual([]);
    expect(none.warnings.join()).toMatch(/shows no stream within reach/);
    const far = track([
      drawn("stream", [
        [-800, 230],
        [800, 230],
      ]),
    ]);
    expect(far.warnings.join()).toMatch(/3\.8 times the usual error off/);
  });

  it("a line cut in two at a junction is one place", () => {
    const { places } = track(
      [lineOf("path", [place(-500, 0), place(0, 0)]), lineOf("path", [place(0, 0), place(500, 0)])],
      at("path"),
    );
    expect(places).toHaveLength(1);
    expect(places[0]!.probability).toBe(1);
  });

  it("a height narrows it down", () => {
    const lines = [
      beck,
      drawn("stream", [
        [-800, -45],
        [800, -45],
      ]),
    ];
    const { places } = backOnTrack(
      WALKED,
      { ...at("stream"), clues: [{ what: "height", elevationM: 320, errorM: 10 }] },
      ground(
        lines,
        hills((_, n) => 300 + n / 2),
      ),
      SETTINGS,
    );
    expect(places[0]!.line.name).toBe("Fern Beck");
    expect(places[0]!.probability).toBeGreaterThan(0.98);
  });

  it("the box to prepare holds all that is looked at", () => {
    const box = backOnTrackBox({ ...WALKED, orUpTo: place(300, -1000) }, SETTINGS);
    for (const [e, n] of [
      [-260, 0],
      [560, 0],
      [0, 300],
      [0, -300],
    ] as const) {
      const [lon, lat] = place(e, n);
      expect(lon > box[0] && lon < box[2] && lat > box[1] && lat < box[3]).toBe(true);
    }
  });

  it("what cannot be stood at is refused", () => {
    expect(() => track([beck], at("peak"))).toThrow(/summit is no line/);
    expect(() => track([beck], at())).toThrow(/Nothing was said/);
  });
});
