/** What must hold of any leg: walked back, cut in two, moved round the earth. Legs and lines are random, the seed is fixed. */
import fc from "fast-check";
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import type { LegFigures } from "../../../core/legs/figures.ts";
import { legFigures } from "../../../core/legs/leg-figures.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import type { Kind } from "../../../core/map/kinds.ts";
import { normalise180 } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { hills, lineMap, lineOf, ORIGIN, place } from "./support/line-map.ts";

const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };
const { features } = JSON.parse(
  readFileSync(new URL("../../fixtures/legs/lines.geojson", import.meta.url), "utf8"),
) as {
  features: { properties: { kind: Kind; name: string }; geometry: { coordinates: LonLat[] } }[];
};
const real = features.map(({ properties, geometry }) =>
  lineOf(properties.kind, geometry.coordinates, properties.name),
);
const elevation = hills((e, n) => 300 + 80 * Math.sin(e / 700) * Math.cos(n / 500));
const overReal = { map: lineMap(real), elevation };
const figures = (from: LonLat, to: LonLat, on = overReal): LegFigures =>
  legFigures({ n: 1, from: { label: "A", lonLat: from }, to: { label: "B", lonLat: to } }, on, settings);

const somewhere = fc
  .tuple(fc.double({ min: -2500, max: 2500, noNaN: true }), fc.double({ min: -2500, max: 2500, noNaN: true }))
  .map(([e, n]) => place(e, n));
const someLeg = fc.tuple(somewhere, somewhere).filter(([a, b]) => legFrame(a, b).lengthM > 120);
const RUNS = { seed: 7, numRuns: 60 };

test("walked back, climb is descent, left is right and the crossings come in reverse", () => {
  let handrails = 0;
  fc.assert(
    fc.property(someLeg, ([a, b]) => {
      const there = figures(a, b);
      const back = figures(b, a);
      expect(back.distanceM).toBeCloseTo(there.distanceM, 6);
      // Each end may hide a rise or fall under the threshold of 1 m.
      expect(Math.abs((back.climbM as number) - (there.descentM as number))).toBeLessThanOrEqual(2);
      expect(Math.abs((back.descentM as number) - (there.climbM as number))).toBeLessThanOrEqual(2);
      expect(back.slopeDistanceM).toBeCloseTo(there.slopeDistanceM as number, 4);
      expect(back.crossings.map(({ name }) => name)).toEqual(
        there.crossings.map(({ name }) => name).toReversed(),
      );
      back.crossings
        .toReversed()
        .forEach((crossing, i) =>
          expect(there.distanceM - crossing.atM).toBeCloseTo(there.crossings[i]?.atM ?? NaN, 1),
        );
      const turned = back.handrails.map(
        (h) =>
          `${h.name} ${h.side === "left" ? "right" : "left"} ${Math.round((there.distanceM - h.toM) / 2)}`,
      );
      // A stretch within a metre of the shortest may fall on either side of it.
      const clear = there.handrails.filter((h) => h.coverage * there.distanceM > settings.handrailMinM + 1);
      handrails += clear.length;
      for (const h of clear) {
        const near = [-1, 0, 1].map((d) => `${h.name} ${h.side} ${Math.round(h.fromM / 2) + d}`);
        expect(
          turned.some((t) => near.includes(t)),
          `${near[1]} among ${turned.join("; ")}`,
        ).toBe(true);
      }
    }),
    RUNS,
  );
  expect(handrails).toBeGreaterThan(50);
});

test("cut in two, distances, crossings and handrails add up", () => {
  fc.assert(
    fc.property(someLeg, fc.double({ min: 0.1, max: 0.9, noNaN: true }), ([a, b], part) => {
      const whole = figures(a, b);
      const at = whole.distanceM * part;
      const middle = legFrame(a, b).toLonLat(at, 0);
      const [first, second] = [figures(a, middle), figures(middle, b)];
      expect(first.distanceM + second.distanceM).toBeCloseTo(whole.distanceM, 3);
      // A pair merged across the cut would be two.
      fc.pre(!whole.crossings.some(({ atM }) => Math.abs(atM - at) < 20));
      expect([...first.crossings, ...second.crossings].map(({ name }) => name)).toEqual(
        whole.crossings.map(({ name }) => name),
      );
      const covered = (leg: LegFigures, name: string | null, side: string): number =>
        leg.handrails
          .filter((h) => h.name === name && h.side === side)
          .reduce((sum, h) => sum + h.coverage * leg.distanceM, 0);
      for (const { name, side } of whole.handrails) {
        const both = covered(first, name, side) + covered(second, name, side);
        // What the cut makes shorter than the shortest stretch is lost, on each side of it at most that much.
        expect(both).toBeLessThanOrEqual(covered(whole, name, side) + 2 * settings.handrailMinM + 1);
        expect(both).toBeGreaterThanOrEqual(covered(whole, name, side) - 2 * settings.handrailMinM - 1);
      }
    }),
    RUNS,
  );
});

test("moved round the earth by some tiles, nothing changes but the norths", () => {
  // The ellipsoid is the same all round: only magnetic and grid north differ.
  const by = (7 * 360) / 2 ** 14;
  const shifted = lineMap(
    features.map(({ properties, geometry }) =>
      lineOf(
        properties.kind,
        geometry.coordinates.map(([lon, lat]): LonLat => [lon + by, lat]),
        properties.name,
      ),
    ),
  );
  const there = {
    map: shifted,
    elevation: { ...elevation, at: ([lon, lat]: LonLat) => elevation.at([lon - by, lat]) },
  };
  fc.assert(
    fc.property(someLeg, ([a, b]) => {
      const one = figures(a, b);
      const other = figures([a[0] + by, a[1]], [b[0] + by, b[1]], there);
      expect(other.distanceM).toBeCloseTo(one.distanceM, 6);
      expect(normalise180((other.bearingTrueDeg as number) - (one.bearingTrueDeg as number))).toBeCloseTo(
        0,
        6,
      );
      expect(other.climbM).toBeCloseTo(one.climbM as number, 3);
      expect(other.crossings.map(({ kind, name, atM }) => [kind, name, Math.round(atM * 10)])).toEqual(
        one.crossings.map(({ kind, name, atM }) => [kind, name, Math.round(atM * 10)]),
      );
      expect(other.handrails.map((h) => [h.name, h.side])).toEqual(
        one.handrails.map((h) => [h.name, h.side]),
      );
      expect(other.backstop?.name).toBe(one.backstop?.name);
      expect(other.backstop?.beyondM ?? 0).toBeCloseTo(one.backstop?.beyondM ?? 0, 3);
    }),
    RUNS,
  );
});

test("the random legs lie among the lines", () =>
  expect(figures(ORIGIN, place(900, 400)).crossings.length).toBeGreaterThan(2));
