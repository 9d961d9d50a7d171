/**
 * The escape bearing. Small maps with one right answer (closed forms worked in the comments), and 300 random legs over
 * real lines against dense rays: tests/fixtures/legs/hazards-truth.json.
 */
import * as turf from "@turf/turf";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import {
  type EscapeFinding,
  type EscapeGround,
  escapeOf,
  escapeSearchBox,
  escapeWords,
  walkEscapeOf,
} from "../../../core/legs/aids/escape.ts";
import { frameAreas } from "../../../core/legs/aids/framed-area.ts";
import { frameLines } from "../../../core/legs/aids/framed-line.ts";
import type { AreaFeature, LineFeature } from "../../../core/map/features.ts";
import { type Kind, ROLES } from "../../../core/map/kinds.ts";
import type { ElevationModel } from "../../../core/terrain/elevation.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { drawn, hills, lineOf, pairs, place } from "./support/line-map.ts";

const settings = { escapeReachM: 3000, driftDeg: 6, steepDeg: [30, 35, 40] };
const ALL_ROLES = Object.fromEntries(ROLES.map((role) => [role, { layer: role }]));
const LEVEL = hills(() => 100);

interface On {
  readonly lines?: readonly LineFeature[];
  readonly areas?: readonly AreaFeature[];
  readonly elevation?: ElevationModel | null;
  readonly roles?: object;
}
const groundOf = (frame: ReturnType<typeof legFrame>, on: On): EscapeGround => ({
  lines: frameLines(frame, on.lines ?? []),
  areas: frameAreas(frame, on.areas ?? []),
  elevation: on.elevation === undefined ? LEVEL : on.elevation,
  roles: on.roles ?? ALL_ROLES,
});
/** A leg of 1000 m east. */
function found(on: On, more: Partial<typeof settings> = {}): EscapeFinding {
  const frame = legFrame(place(0, 0), place(1000, 0));
  return escapeOf(frame, groundOf(frame, on), { ...settings, ...more });
}
const ROAD = drawn(
  "road",
  [
    [-3000, 800],
    [4000, 800],
  ],
  "Moor Road",
);

describe("set pieces", () => {
  test("a road 800 m north, straight along the leg: due north, 800 m at most", () => {
    const { escape, notes } = found({ lines: [ROAD] });
    expect(escape).toMatchObject({ bearingTrueDeg: 0, kind: "road", name: "Moor Road" });
    expect(escape?.worstM).toBeCloseTo(800, 0);
    // Straying by 6° it is 800 / cos 6°.
    expect(escape?.worstDriftedM).toBeCloseTo(800 / Math.cos(Math.PI / 30), 0);
    expect(escape?.ends).toMatchObject([{ share: 1 }]);
    expect(escape?.between).toEqual([]);
    expect(notes).toEqual([]);
    expect(escape && escapeWords(escape)).toBe("0° true to Moor Road, 800 m at most");
  });

  test("a road askew: at right angles to it, not north", () => {
    // The road falls 30° towards the east: y = 900 − x·tan 30°. At right angles to it is 30° true; farthest from the start,
    // 900·cos 30°.
    const t = Math.tan(Math.PI / 6);
    const { escape } = found({
      lines: [
        drawn("road", [
          [-3000, 900 + 3000 * t],
          [4000, 900 - 4000 * t],
        ]),
      ],
    });
    expect(escape?.bearingTrueDeg).toBe(30);
    expect(escape?.worstM).toBeCloseTo(900 * Math.cos(Math.PI / 6), 0);
  });

  test("the nearer road lies behind a lake: the other is taken", () => {
    const other = drawn(
      "road",
      [
        [-3000, -1200],
        [4000, -1200],
      ],
      "Low Road",
    );
    const shore = drawn("shore", [
      [400, 300],
      [600, 300],
      [600, 500],
      [400, 500],
      [400, 300],
    ]);
    const { escape } = found({ lines: [ROAD, other, shore] });
    expect(escape).toMatchObject({ name: "Low Road", bearingTrueDeg: 180 });
    expect(escape?.worstM).toBeCloseTo(1200, 0);
  });

  test("a cliff counts the same, but not one behind the road", () => {
    const cliff = (at: number): LineFeature =>
      drawn("cliff", [
        [-200, at],
        [1200, at],
      ]);
    expect(found({ lines: [ROAD, cliff(900)] }).escape?.bearingTrueDeg).toBe(0);
    // From all of the leg one gets past the cliff's end, 1200 m along it at most, when tan β ≥ 1200 / 700: β ≥ 59.7°. With
    // 6° to stray it is 66° to either side of north, and 800 / cos 66° to the road.
    const { escape } = found({ lines: [ROAD, cliff(700)] });
    expect([66, 294]).toContain(escape?.bearingTrueDeg);
    expect(escape?.worstM).toBeCloseTo(800 / Math.cos((66 * Math.PI) / 180), 0);
  });

  test("steep ground counts the same", () => {
    const bank = hills((_, north) => 100 + Math.min(200, Math.max(0, north - 300)));
    const { escape, notes } = found({ lines: [ROAD], elevation: bank });
    expect(escape).toBeNull();
    expect(notes.join()).toContain("steep ground is in the way");
  });

  test("where a walker who strays would miss it, it is said", () => {
    // A road that only just spans the leg: north alone meets it from everywhere, 6° aside does not.
    const short = drawn("road", [
      [-20, 800],
      [1020, 800],
    ]);
    const { escape, notes } = found({ lines: [short] });
    expect(escape?.worstDriftedM).toBeNull();
    expect(notes.join()).toContain("straying by 6°");
    expect(
      found({
        lines: [
          short,
          drawn(
            "road",
            [
              [-3000, -2000],
              [4000, -2000],
            ],
            "Low Road",
          ),
        ],
      }).escape,
    ).toMatchObject({
      name: "Low Road",
      bearingTrueDeg: 180,
    });
  });

  test("no single bearing: the best part is told", () => {
    const { escape, notes } = found(
      {
        lines: [
          drawn(
            "road",
            [
              [-1000, 300],
              [600, 300],
            ],
            "Moor Road",
          ),
        ],
      },
      { escapeReachM: 400 },
    );
    expect(escape).toBeNull();
    // Within 400 m of the road's line one can go at most √(400² − 300²) = 265 m west of north: from the last 135 m nothing.
    expect(notes[0]).toMatch(/^No one bearing leads to a road, river or wide track within 400 m/);
    expect(notes[0]).toMatch(/but from the last 1[34]\d m none is reached\.$/);
  });

  test("nothing anywhere", () => {
    expect(found({})).toEqual({
      escape: null,
      notes: ["The map shows no road, river or wide track within 3000 m: there is no escape bearing."],
    });
    // Narrow paths, walls and railways are not walked to.
    expect(
      found({
        lines: (["path", "wall", "rail", "stream"] as const).map((kind) =>
          drawn(kind, [
            [-3000, 500],
            [4000, 500],
          ]),
        ),
      }).escape,
    ).toBeNull();
  });

  test("a track will do, and what is crossed on the way is told", () => {
    const track: LineFeature = {
      ...drawn("path", [
        [-3000, -600],
        [4000, -600],
      ]),
      attributes: { class: "track" },
    };
    const beck = drawn(
      "stream",
      [
        [-3000, -200],
        [4000, -200],
      ],
      "Fern Beck",
    );
    const behind = drawn("wall", [
      [-3000, -700],
      [4000, -700],
    ]);
    const { escape, notes } = found({ lines: [track, beck, behind] });
    expect(escape).toMatchObject({
      bearingTrueDeg: 180,
      kind: "path",
      between: [{ kind: "stream", name: "Fern Beck" }],
    });
    expect(notes).toEqual(["On the way to the path: stream Fern Beck."]);
  });

  test("what the map does not show is said", () =>
    expect(found({ lines: [ROAD], roles: { road: {} }, elevation: null }).notes).toEqual([
      "This map does not show cliffs or water: whether any is on the way of escape is not known.",
      "There is no terrain model here: steep ground on the way of escape is not known.",
    ]));

  test("one bearing for a walk of three legs, or none", () => {
    const corners = [place(0, 0), place(1000, 0), place(1000, -700), place(0, -700)];
    const legs = (lines: readonly LineFeature[]) =>
      corners.slice(1).map((to, i) => {
        const frame = legFrame(corners[i] as LonLat, to);
        return { frame, ground: groundOf(frame, { lines }) };
      });
    const all = walkEscapeOf(legs([ROAD]), settings);
    expect(all.escape).toMatchObject({ bearingTrueDeg: 0, name: "Moor Road" });
    expect(all.escape?.worstM).toBeCloseTo(1500, 0);
    const { escape, notes } = walkEscapeOf(legs([ROAD]), { ...settings, escapeReachM: 1000 });
    expect(escape).toBeNull();
    expect(notes[0]).toMatch(
      /everywhere on the walk\. The best, \d+° true, ends on the Moor Road, but not from all of legs 2, 3\.$/,
    );
  });

  test("what is drawn lies on the line met, and its box holds it", () => {
    const { escape } = found({ lines: [ROAD] });
    const box = escapeSearchBox(place(0, 0), place(1000, 0), settings);
    const drawnRoad = turf.lineString([...pairs(ROAD.coords)].map((p) => [...p]));
    for (const stretch of escape?.stretches ?? [])
      for (const p of pairs(stretch)) {
        expect(turf.pointToLineDistance([...p], drawnRoad, { units: "meters" })).toBeLessThan(0.5);
        expect(p[0] > box[0] && p[0] < box[2] && p[1] > box[1] && p[1] < box[3]).toBe(true);
      }
    expect(escape?.stretches).toHaveLength(1);
  });
});

interface Truth {
  readonly from: LonLat;
  readonly to: LonLat;
  readonly escape: { readonly bearingDeg: number; readonly worstM: number; readonly sure: boolean } | null;
}

describe("300 legs over real lines against dense rays", () => {
  const fixture = (name: string): unknown =>
    JSON.parse(readFileSync(new URL(`../../fixtures/legs/${name}`, import.meta.url), "utf8"));
  const truths = fixture("hazards-truth.json") as Truth[];
  const lines = (
    fixture("lines.geojson") as {
      features: { properties: { kind: Kind; name: string }; geometry: { coordinates: LonLat[] } }[];
    }
  ).features.map(({ properties, geometry }) =>
    lineOf(properties.kind, geometry.coordinates, properties.name),
  );
  const legs = truths.map((truth, i) => {
    const frame = legFrame(truth.from, truth.to);
    return { i, truth, frame, ...escapeOf(frame, groundOf(frame, { lines, elevation: null }), settings) };
  });

  test("the same bearing, or one as good; the worst distance within 1 m", () => {
    let same = 0;
    for (const { i, truth, escape, notes } of legs) {
      if (!truth.escape) {
        expect(escape, `leg ${i}`).toBeNull();
        expect(notes[0]).toMatch(/^No one bearing|^The map shows no road/);
        continue;
      }
      expect(escape, `leg ${i}`).not.toBeNull();
      if (!escape) continue;
      expect(Math.abs(escape.worstM - truth.escape.worstM), `leg ${i}`).toBeLessThan(1);
      expect(escape.worstDriftedM !== null, `leg ${i}`).toBe(truth.escape.sure);
      if (escape.bearingTrueDeg === truth.escape.bearingDeg) same++;
    }
    expect(legs).toHaveLength(300);
    expect(same / legs.filter(({ escape }) => escape).length).toBeGreaterThan(0.95);
  });

  /** turf works on longitude and latitude on a sphere: a ray of 3 km may end some metres off. */
  test("turf meets a big line no farther off on that bearing, from 20 places of each of 30 legs", () => {
    const ends = lines
      .filter(({ kind }) => kind === "road" || kind === "river")
      .map(({ coords }) => turf.lineString([...pairs(coords)].map((p) => [...p])))
      .map((line) => ({ line, box: turf.bbox(line) as [number, number, number, number] }));
    let checked = 0;
    for (const { i, frame, escape } of legs.filter(({ escape }) => escape).slice(0, 30))
      for (let k = 0; k < 20; k++) {
        const at = frame.toLonLat(((k + 0.5) / 20) * frame.lengthM, 0);
        const bearing = escape?.bearingTrueDeg ?? NaN;
        const far = turf.destination([...at], (escape?.worstM ?? NaN) * 1.003 + 3, bearing, {
          units: "meters",
        });
        const ray = turf.lineString([[...at], far.geometry.coordinates]);
        const [w, s, e, n] = turf.bbox(ray) as [number, number, number, number];
        const met = ends.some(({ line, box }) => {
          const isNear = box[0] <= e && box[2] >= w && box[1] <= n && box[3] >= s;
          return isNear && turf.lineIntersect(ray, line).features.length > 0;
        });
        expect(met, `leg ${i} at ${k}`).toBe(true);
        checked++;
      }
    expect(checked).toBe(600);
  });
});
