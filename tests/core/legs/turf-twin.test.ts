/**
 * The same searches written plainly with turf over the raw features, no frame and no index, on 60 random legs.
 * turf works on longitude and latitude directly and on a sphere: over legs of 2 km that differs by some decimetres.
 */
import * as turf from "@turf/turf";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { inverse } from "../../../core/geodesy/geodesic.ts";
import { legFigures } from "../../../core/legs/leg-figures.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import type { Kind } from "../../../core/map/kinds.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { lineMap, lineOf, pairs, place } from "./support/line-map.ts";

const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };
const { features } = JSON.parse(
  readFileSync(new URL("../../fixtures/legs/lines.geojson", import.meta.url), "utf8"),
) as {
  features: { properties: { kind: Kind; name: string }; geometry: { coordinates: [number, number][] } }[];
};
const map = lineMap(
  features.map(({ properties, geometry }) => lineOf(properties.kind, geometry.coordinates, properties.name)),
);

/** Marsaglia's xorshift32: equal legs on every machine. */
function random(seed: number): () => number {
  let x = seed;
  return () => {
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    return (x >>> 0) / 2 ** 32;
  };
}
const next = random(20260615);
const legs = Array.from({ length: 60 }, (_, i) => {
  const from = place((next() - 0.5) * 5000, (next() - 0.5) * 4000);
  const turn = next() * 2 * Math.PI;
  const length = 200 + next() * 1800;
  const to = ((c: readonly [number, number]): LonLat => [c[0], c[1]])(
    turf.destination([...from], length, (turn * 180) / Math.PI, { units: "meters" }).geometry.coordinates as [
      number,
      number,
    ],
  );
  const figures = legFigures(
    { n: 1, from: { label: "A", lonLat: from }, to: { label: "B", lonLat: to } },
    { map, elevation: null },
    settings,
  );
  return { title: `leg ${i}`, from, to, figures };
});

const meetings = (a: LonLat, b: LonLat, coordinates: [number, number][]): LonLat[] =>
  turf
    .lineIntersect(turf.lineString([[...a], [...b]]), turf.lineString(coordinates))
    .features.map(({ geometry }) => geometry.coordinates as [number, number]);

describe("against turf", () => {
  test.for(legs)("$title crosses the same lines within 1 m", ({ from, to, figures }) => {
    const twin = features.flatMap(({ properties, geometry }) =>
      meetings(from, to, geometry.coordinates).map((at) => ({
        name: properties.name,
        atM: inverse(from, at).distanceM,
      })),
    );
    const shallow = new Set(
      figures.crossings
        .filter(({ crossingDeg }) => crossingDeg !== null && crossingDeg < 20)
        .map(({ name }) => name),
    );
    const clear = twin.filter(
      ({ name, atM }) => atM > 1 && atM < figures.distanceM - 1 && !shallow.has(name),
    );
    for (const { name, atM } of clear)
      expect(
        figures.crossings.some((c) => c.name === name && Math.abs(c.atM - atM) < 4 + 1),
        `${name} at ${atM}`,
      ).toBe(true);
    for (const { name, atM } of figures.crossings.filter(
      (c) => c.atM > 1 && c.atM < figures.distanceM - 1 && !shallow.has(c.name),
    )) {
      const own = clear.filter((c) => c.name === name && Math.abs(c.atM - atM) < 5).map((c) => c.atM);
      const mean = own.reduce((sum, d) => sum + d, 0) / own.length;
      expect(Math.abs(mean - atM), `${name} at ${atM}`).toBeLessThan(1);
    }
  });

  test.for(legs)("$title: what it follows lies beside it, on the side said", ({ from, to, figures }) => {
    const line = turf.lineString([[...from], [...to]]);
    for (const { name, side, stretches, minOffsetM, maxOffsetM, meanOffsetM } of figures.handrails) {
      const offsets: number[] = [];
      let balance = 0;
      for (const stretch of stretches) {
        const drawn = turf.lineString(Array.from(pairs(stretch), (p) => [...p]));
        const length = turf.length(drawn, { units: "meters" });
        for (let d = 0; d <= length; d += 2) {
          const at = turf.along(drawn, d, { units: "meters" });
          const offset = turf.pointToLineDistance(at, line, { units: "meters", method: "geodesic" });
          offsets.push(offset);
          const [x, y] = at.geometry.coordinates as [number, number];
          // Positive to the right, by the sign of the plane's cross product.
          balance +=
            Math.sign((to[1] - from[1]) * (x - from[0]) - (to[0] - from[0]) * (y - from[1])) * offset;
        }
      }
      expect(Math.max(...offsets), `${name}`).toBeLessThan(settings.handrailOffsetM * 1.01);
      expect(Math.abs(Math.max(...offsets) - maxOffsetM), `${name}`).toBeLessThan(2);
      expect(Math.min(...offsets) - minOffsetM, `${name}`).toBeLessThan(2);
      // Along the line here, along the leg there: a bend weighs a little more here.
      expect(
        Math.abs(offsets.reduce((sum, o) => sum + o, 0) / offsets.length - meanOffsetM),
        `${name}`,
      ).toBeLessThan(4);
      expect(balance < 0 ? "left" : "right", `${name}`).toBe(side);
    }
  });

  test.for(legs)(
    "$title is stopped as often and as far beyond",
    ({ from, to, figures: { backstop, distanceM } }) => {
      if (!backstop || backstop.beyondM === 0) return;
      const line =
        features.find(({ properties }) => properties.name === backstop.name)?.geometry.coordinates ?? [];
      const bearing = turf.bearing([...from], [...to]);
      // turf's metres, so that its rays begin at the target's distance.
      const scale = turf.distance([...from], [...to], { units: "meters" }) / distanceM;
      let [stopped, all] = [0, 0];
      let ahead: number | null = null;
      for (let i = -60; i <= 60; i++) {
        const share = Math.exp(-2 * (i / 60) ** 2);
        all += share;
        const end = (m: number): LonLat =>
          turf.destination([...from], m * scale, bearing + (i / 60) * settings.driftDeg, { units: "meters" })
            .geometry.coordinates as [number, number];
        const met = meetings(end(distanceM), end(distanceM + settings.backstopReachM), line).map(
          (at) => inverse(from, at).distanceM - distanceM,
        );
        if (met.length === 0) continue;
        stopped += share;
        if (i === 0) ahead = Math.min(...met);
      }
      // A third fewer rays here: a line's end may fall between two of them.
      expect(Math.abs(stopped / all - backstop.stoppedShare)).toBeLessThan(0.03);
      // The sphere turns a ray of 2.5 km by a metre or so.
      if (ahead !== null)
        expect(Math.abs(ahead - backstop.beyondM)).toBeLessThan(
          1.5 / Math.sin((backstop.crossingDeg * Math.PI) / 180),
        );
    },
  );

  test("the legs do meet lines", () => {
    expect(legs.reduce((sum, { figures }) => sum + figures.crossings.length, 0)).toBeGreaterThan(200);
    expect(legs.reduce((sum, { figures }) => sum + figures.handrails.length, 0)).toBeGreaterThan(60);
    expect(
      legs.filter(({ figures }) => figures.backstop && figures.backstop.beyondM > 0).length,
    ).toBeGreaterThan(15);
  });
});
