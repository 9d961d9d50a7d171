/**
 * Crossings, handrails and backstops of 300 random legs over real lines against GEOS.
 * Source of every expected figure: tests/fixtures/legs/truth.json, made by make-truth.py beside it (GEOS 3.11, PROJ).
 */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { backstopOf } from "../../../core/legs/aids/backstop.ts";
import { crossingList } from "../../../core/legs/crossing-list.ts";
import { frameLines } from "../../../core/legs/aids/framed-line.ts";
import { handrailsOf } from "../../../core/legs/aids/handrails.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import { legSearchBox } from "../../../core/legs/search-box.ts";
import { pacesFor } from "../../../core/travel/paces.ts";
import type { Kind } from "../../../core/map/kinds.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { lineMap, lineOf } from "./support/line-map.ts";

interface Truth {
  readonly from: LonLat;
  readonly to: LonLat;
  readonly crossings: readonly (readonly [atM: number, kind: Kind, name: string])[];
  readonly handrails: readonly {
    readonly kind: Kind;
    readonly name: string;
    readonly side: "left" | "right";
    readonly fromM: number;
    readonly toM: number;
    readonly meanOffsetM: number;
    readonly coveredM: number;
    /** It lies on one side, or on neither, by a hand's breadth: the projection decides. */
    readonly edge?: true;
  }[];
  readonly backstop: {
    readonly kind: Kind;
    readonly name: string;
    readonly beyondM: number;
    readonly stoppedShare: number;
    readonly crossingDeg: number;
  } | null;
}

const fixture = (name: string): string =>
  readFileSync(new URL(`../../fixtures/legs/${name}`, import.meta.url), "utf8");
const truths = JSON.parse(fixture("truth.json")) as Truth[];
const collection = JSON.parse(fixture("lines.geojson")) as {
  features: { properties: { kind: Kind; name: string }; geometry: { coordinates: LonLat[] } }[];
};
const map = lineMap(
  collection.features.map(({ properties, geometry }) =>
    lineOf(properties.kind, geometry.coordinates, properties.name),
  ),
);
const settings = DEFAULT_LEG_SETTINGS;
const noHeights = {
  from: null,
  distanceM: new Float64Array(0),
  elevationM: new Float64Array(0),
  errorM: null,
  errorsM: null,
  blind: [],
};

const legs = truths.map((truth, i) => {
  const frame = legFrame(truth.from, truth.to);
  const lines = map.lines(legSearchBox(truth.from, truth.to, settings));
  return {
    title: `leg ${i} from ${truth.from.join(", ")}`,
    truth,
    frame,
    lines,
    framed: frameLines(frame, lines),
  };
});

describe("over real lines", () => {
  test.for(legs)("$title crosses what GEOS says, within 0.5 m", ({ truth, frame, lines }) => {
    const found = crossingList(frame, lines, noHeights, (d) => pacesFor(d, 65)).map(
      ({ atM, kind, name }) => ({
        atM,
        kind,
        name,
      }),
    );
    const wanted = truth.crossings.map(([atM, kind, name]) => ({ atM, kind, name }));
    expect(found.map(({ kind, name }) => `${kind} ${name}`).toSorted()).toEqual(
      wanted.map(({ kind, name }) => `${kind} ${name}`).toSorted(),
    );
    const byName = (
      a: { name: string | null; atM: number },
      b: { name: string | null; atM: number },
    ): number => String(a.name).localeCompare(String(b.name)) || a.atM - b.atM;
    const [f, w] = [found.toSorted(byName), wanted.toSorted(byName)];
    f.forEach((crossing, i) =>
      expect(Math.abs(crossing.atM - (w[i]?.atM ?? NaN)), `${crossing.name} at ${crossing.atM}`).toBeLessThan(
        0.5,
      ),
    );
  });

  test.for(legs)("$title can follow what GEOS says, within 1 m", ({ truth, frame, framed }) => {
    const found = handrailsOf(frame, framed, settings);
    // A stretch within a metre of the shortest may fall on either side of it.
    const clear = settings.handrailMinM + 1;
    const key = (h: { name: string | null; side: string; fromM: number }): string =>
      `${h.name} ${h.side} ${h.fromM}`;
    const onEdge = new Set(truth.handrails.filter(({ edge }) => edge).map(({ name }) => name));
    for (const want of truth.handrails.filter(
      ({ coveredM, name }) => coveredM >= clear && !onEdge.has(name),
    )) {
      const same = found.find(
        (h) => h.name === want.name && h.side === want.side && Math.abs(h.fromM - want.fromM) < 1,
      );
      expect(same, `missing ${key(want)}`).toBeDefined();
      if (!same) continue;
      expect(same.kind).toBe(want.kind);
      expect(Math.abs(same.toM - want.toM), key(want)).toBeLessThan(1);
      expect(Math.abs(same.meanOffsetM - want.meanOffsetM), key(want)).toBeLessThan(1);
      expect(Math.abs(same.coverage * frame.lengthM - want.coveredM), key(want)).toBeLessThan(1);
    }
    for (const have of found.filter(
      ({ coverage, name }) => coverage * frame.lengthM >= clear && !onEdge.has(name as string),
    ))
      expect(
        truth.handrails.some(
          (h) => h.name === have.name && h.side === have.side && Math.abs(h.fromM - have.fromM) < 1,
        ),
        `extra ${key(have)}`,
      ).toBe(true);
  });

  test.for(legs)("$title is stopped by what GEOS says, within 1 m", ({ truth, frame, framed }) => {
    const { backstop, notes } = backstopOf(frame, framed, settings);
    if (!truth.backstop) {
      expect(backstop).toBeNull();
      expect(notes.join()).toContain("Nothing within 500 m");
      return;
    }
    expect(backstop).toMatchObject({ kind: truth.backstop.kind, name: truth.backstop.name });
    expect(Math.abs((backstop?.beyondM ?? NaN) - truth.backstop.beyondM)).toBeLessThan(1);
    expect(Math.abs((backstop?.stoppedShare ?? NaN) - truth.backstop.stoppedShare)).toBeLessThan(0.001);
    expect(Math.abs((backstop?.crossingDeg ?? NaN) - truth.backstop.crossingDeg)).toBeLessThan(0.1);
  });
});

test("the fixture is not empty", () => {
  const sum = (of: (truth: Truth) => number): number => truths.reduce((total, truth) => total + of(truth), 0);
  expect(truths).toHaveLength(300);
  expect(sum(({ crossings }) => crossings.length)).toBeGreaterThan(1500);
  expect(sum(({ handrails }) => handrails.length)).toBeGreaterThan(700);
  expect(sum(({ backstop }) => (backstop ? 1 : 0))).toBeGreaterThan(150);
});
