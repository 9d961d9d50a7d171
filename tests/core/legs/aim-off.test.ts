/**
 * Aiming off on small maps with one right answer. Source of the practice: US Army FM 3-21.8, navigation aids (deliberate
 * offset). Figures against closed forms: a course at an angle φ to a leg of length d meets a line square to it at the
 * target d·tan φ aside, and a line at θ to the leg d·sin φ / sin(θ − φ) along it (law of sines). Legs run 1000 m east.
 */
import * as turf from "@turf/turf";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { direct, inverse } from "../../../core/geodesy/geodesic.ts";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { aimOffOf, type AimOffFinding, type AimOffInput } from "../../../core/legs/aids/aim-off.ts";
import { frameLines } from "../../../core/legs/aids/framed-line.ts";
import { handrailsOf } from "../../../core/legs/aids/handrails.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import type { LineFeature } from "../../../core/map/features.ts";
import type { Kind } from "../../../core/map/kinds.ts";
import { trueBearing } from "../../../core/units/angle.ts";
import { bboxOf, type LonLat } from "../../../core/units/position.ts";
import { drawn, lineOf, metres, pairs, place } from "./support/line-map.ts";

const DEG = Math.PI / 180;
const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };

function aimed(
  lines: readonly LineFeature[],
  {
    lengthM = 1000,
    driftDeg = 6,
    ...rest
  }: Partial<AimOffInput> & { lengthM?: number; driftDeg?: number } = {},
): AimOffFinding {
  const frame = legFrame(place(0, 0), place(lengthM, 0));
  const framed = frameLines(frame, lines);
  return aimOffOf(
    { frame, lines: framed, handrails: handrailsOf(frame, framed, settings), ...rest },
    { ...settings, driftDeg },
  );
}
const stream = drawn(
  "stream",
  [
    [1000, -900],
    [1000, 900],
  ],
  "Fern Beck",
);

describe("a target on a stream across the way", () => {
  test("the least whole degree at which the cone of ±6° lies to one side, 10 m clear, or more", () => {
    const { aimOff, reason } = aimed([stream]);
    expect(reason).toBeNull();
    // tan 1° is 17.5 m in 1000 m, 10 m clear and more; at 0° the edge would meet the target.
    expect(aimOff?.offsetDeg).toBe(7);
    expect(aimOff?.line).toEqual({ kind: "stream", name: "Fern Beck" });
    expect(aimOff?.meanAlongM).toBeCloseTo(1000 * Math.tan(7 * DEG), 0);
    expect(aimOff?.alongM).toBeCloseTo(1000 * Math.tan(13 * DEG), 0);
    expect(aimOff?.distanceM).toBeCloseTo(1000 / Math.cos(7 * DEG), 0);
    expect(aimOff?.onSideShare).toBeCloseTo(1, 9);
  });

  test.each([
    [300, 6, 8], // 300·tan 1° = 5.2 m, tan 2°: 10.5 m
    [150, 6, 10], // 150·tan 3° = 7.9 m, tan 4°: 10.5 m
    [1000, 3, 4],
    [2000, 10, 11],
  ])("over %d m with drift of %d° it is %d°", (lengthM, driftDeg, offsetDeg) => {
    const across = drawn("stream", [
      [lengthM, -2000],
      [lengthM, 2000],
    ]);
    const { aimOff } = aimed([across], { lengthM, driftDeg });
    expect(aimOff?.offsetDeg).toBe(offsetDeg);
    expect(lengthM * Math.tan((offsetDeg - driftDeg) * DEG)).toBeGreaterThanOrEqual(10);
    expect(lengthM * Math.tan((offsetDeg - 1 - driftDeg) * DEG)).toBeLessThan(10);
    expect(aimOff?.alongM).toBeCloseTo(lengthM * Math.tan((offsetDeg + driftDeg) * DEG), 0);
  });

  test("the bearing turns to the side, the turn on the line is the other way", () => {
    const barredRight = drawn("cliff", [
      [900, -20],
      [900, -500],
    ]);
    const { aimOff } = aimed([stream, barredRight]);
    expect(aimOff).toMatchObject({ side: "left", turn: "right" });
    // The leg runs east; left of it is north, where the stream is met.
    expect(aimOff?.bearingTrueDeg).toBeCloseTo(90 - 7, 1);
    expect(metres(aimOff?.meetLonLat ?? place(0, 0))[1]).toBeCloseTo(1000 * Math.tan(7 * DEG), 0);
    expect(aimOff?.why).toContain("on the right the cliff lies in the way");
    expect(aimOff?.onReaching).toContain("turn right and follow it to the target");
  });
});

describe("which side", () => {
  test("a slanting line is met where it leans back: the shorter way along it, by the law of sines", () => {
    // At 60° to the leg, leaning back on the left (north).
    const u = [Math.cos(60 * DEG), Math.sin(60 * DEG)] as const;
    const slanting = drawn("road", [
      [1000 - 900 * u[0], 900 * u[1]],
      [1000 + 900 * u[0], -900 * u[1]],
    ]);
    const { aimOff } = aimed([slanting]);
    expect(aimOff?.side).toBe("left");
    const along = (deg: number): number => (1000 * Math.sin(deg * DEG)) / Math.sin((120 - deg) * DEG);
    expect(aimOff?.meanAlongM).toBeCloseTo(along(aimOff?.offsetDeg ?? 0), 0);
    expect(aimOff?.alongM).toBeCloseTo(along((aimOff?.offsetDeg ?? 0) + 6), 0);
  });

  test("the line ends 100 m to the left of the target: right, and it says why", () => {
    const { aimOff } = aimed([
      drawn("wall", [
        [1000, 100],
        [1000, -900],
      ]),
    ]);
    expect(aimOff?.side).toBe("right");
    expect(aimOff?.why).toContain("on the left the wall does not reach far enough");
  });

  test("a line cut in two at a tile's edge runs on", () => {
    const { aimOff } = aimed([
      drawn("wall", [
        [1000, 100],
        [1000, -20],
      ]),
      drawn("wall", [
        [1000, -20],
        [1000, -150],
      ]),
      drawn("wall", [
        [1001, -900],
        [1000, -150.5],
      ]),
    ]);
    expect(aimOff?.side).toBe("right");
    expect(aimOff?.alongM).toBeCloseTo(1000 * Math.tan(13 * DEG), 0);
  });

  test("the line ends soon on both sides: no aiming off, and both are told", () => {
    const { aimOff, reason } = aimed([
      drawn("wall", [
        [1000, 100],
        [1000, -100],
      ]),
    ]);
    expect(aimOff).toBeNull();
    expect(reason).toMatch(/on the left the wall .* on the right the wall/);
  });

  test("a lake before one side, a cliff before the other: none", () => {
    const { aimOff, reason } = aimed([
      stream,
      drawn("cliff", [
        [900, 20],
        [900, 500],
      ]),
      drawn(
        "shore",
        [
          [800, -20],
          [800, -400],
          [900, -400],
          [900, -20],
          [800, -20],
        ],
        "Ash Water",
      ),
    ]);
    expect(aimOff).toBeNull();
    expect(reason).toContain("on the left the cliff lies in the way");
    expect(reason).toContain("on the right the shore of Ash Water lies in the way");
  });

  test("upstream, so that one turns downhill (common practice, no source)", () => {
    const { aimOff } = aimed([stream], { heightAt: (p) => 300 + metres(p)[1] * 0.1 });
    expect(aimOff).toMatchObject({ side: "left", turn: "right" });
    expect(aimOff?.why).toContain("downhill");
  });

  test("the side on which a wall stops one who walks past the target", () => {
    const { aimOff } = aimed([
      stream,
      drawn("wall", [
        [1000, 120],
        [1300, 120],
      ]),
    ]);
    expect(aimOff?.side).toBe("right");
    expect(aimOff?.onReaching).toContain("Who comes to the wall has passed the target by 120 m.");
  });

  test("another stream before it is not to be taken for it", () => {
    const { aimOff } = aimed([
      stream,
      drawn("stream", [
        [800, -900],
        [800, 900],
      ]),
    ]);
    expect(aimOff?.caution).toMatch(/Another stream is crossed before it, at 80\d m/);
  });
});

describe("when not to aim off", () => {
  test("the target lies on no line", () =>
    expect(
      aimed([
        drawn("stream", [
          [1040, -900],
          [1040, 900],
        ]),
      ]).reason,
    ).toBe("The target does not lie on a line."));

  test("the line runs along the way", () =>
    expect(
      aimed([
        drawn("path", [
          [500, -125],
          [1500, 125],
        ]),
      ]).reason,
    ).toContain("runs along the way"));

  test("on 90 m drift of 6° is under 10 m", () =>
    expect(
      aimed(
        [
          drawn("stream", [
            [90, -900],
            [90, 900],
          ]),
        ],
        { lengthM: 90 },
      ).reason,
    ).toContain("walk straight"));

  test("a path leads to the bridge: follow it", () =>
    expect(
      aimed([
        stream,
        drawn(
          "path",
          [
            [0, 20],
            [600, 20],
            [1000, 0],
          ],
          "Old Way",
        ),
      ]).reason,
    ).toContain("path Old Way leads to the target"));
});

describe("on a real map, against turf without frame or index", () => {
  const legs = legsToLines(40);

  test.for(legs)(
    "$title: every course of the cone meets the line on the side said",
    ({ from, to, lines }) => {
      const frame = legFrame(from, to);
      const { aimOff, reason } = aimOffOf({ frame, lines: frameLines(frame, lines) }, settings);
      if (!aimOff) {
        expect(reason).not.toBeNull();
        return;
      }
      const sign = aimOff.side === "left" ? -1 : 1;
      const line = lines.find(({ name }) => name === aimOff.line.name) as LineFeature;
      const drawnLine = turf.lineString(Array.from(pairs(line.coords), (p) => [...p]));
      const alongs: number[] = [];
      for (let drift = -6; drift <= 6; drift += 0.5) {
        const bearing = Number(frame.bearing) + sign * (aimOff.offsetDeg + drift);
        const ray = turf.lineString([
          turf.destination([...from], frame.lengthM / 2, bearing, { units: "meters" }).geometry.coordinates,
          turf.destination([...from], frame.lengthM + 500, bearing, { units: "meters" }).geometry.coordinates,
        ]);
        const first = turf
          .lineIntersect(ray, drawnLine)
          .features.map(({ geometry }) => geometry.coordinates as [number, number])
          .sort((a, b) => inverse(from, a).distanceM - inverse(from, b).distanceM)[0];
        expect(first, `drift ${drift}°`).toBeDefined();
        const slice = turf.lineSlice([...to], first as [number, number], drawnLine);
        alongs.push(turf.length(slice, { units: "meters" }));
      }
      // turf measures on a sphere: up to half a percent off.
      expect(Math.abs(Math.max(...alongs) / aimOff.alongM - 1)).toBeLessThan(0.02);
      expect(Math.min(...alongs)).toBeGreaterThan(9.5);
    },
  );

  test("at least ten of them are aimed off, so that the check above says something", () =>
    expect(
      legs.filter(({ from, to, lines }) => {
        const frame = legFrame(from, to);
        return aimOffOf({ frame, lines: frameLines(frame, lines) }, settings).aimOff;
      }).length,
    ).toBeGreaterThanOrEqual(10));
});

/** Legs of 250 to 900 m to vertices of the lines of the fixture, from all directions; every line has a name of its own. */
function legsToLines(
  count: number,
): { title: string; from: LonLat; to: LonLat; lines: readonly LineFeature[] }[] {
  const { features } = JSON.parse(
    readFileSync(new URL("../../fixtures/legs/lines.geojson", import.meta.url), "utf8"),
  ) as {
    features: {
      properties: { kind: Kind; name: string };
      geometry: { coordinates: [number, number][] };
    }[];
  };
  const lines = features.map(({ properties, geometry }) =>
    lineOf(properties.kind, geometry.coordinates, properties.name),
  );
  let x = 20260615;
  const next = (): number => {
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    return (x >>> 0) / 2 ** 32;
  };
  return Array.from({ length: count }, (_, i) => {
    const { coords } = lines[Math.floor(next() * lines.length)] as LineFeature;
    const at = 2 * Math.floor((next() * coords.length) / 2);
    const to: LonLat = [coords[at] as number, coords[at + 1] as number];
    const from = direct(to, trueBearing(next() * 360), 250 + next() * 650);
    const box = bboxOf([from, to]) as [number, number, number, number];
    const near = lines.filter((line) =>
      Array.from(pairs(line.coords)).some(
        ([lon, lat]) =>
          lon > box[0] - 0.01 && lon < box[2] + 0.01 && lat > box[1] - 0.01 && lat < box[3] + 0.01,
      ),
    );
    return { title: `leg ${i}`, from, to, lines: near };
  });
}
