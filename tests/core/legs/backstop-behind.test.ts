/** What stops behind a weak backstop, and how a backstop looks (common practice, no source). Legs run 1000 m east. */
import { describe, expect, test } from "vitest";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { backstopOf, type BackstopFinding } from "../../../core/legs/aids/backstop.ts";
import { frameLines } from "../../../core/legs/aids/framed-line.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import type { LineFeature } from "../../../core/map/features.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { drawn, metres, place } from "./support/line-map.ts";

const frame = legFrame(place(0, 0), place(1000, 0));
const stopped = (
  lines: readonly LineFeature[],
  heightAt: ((p: LonLat) => number) | null = null,
): BackstopFinding =>
  backstopOf(frame, frameLines(frame, lines), { ...DEFAULT_LEG_SETTINGS }, () => [], heightAt);
const across = (
  kind: LineFeature["kind"],
  e: number,
  fromN = -500,
  toN = 500,
  name: string | null = null,
): LineFeature =>
  drawn(
    kind,
    [
      [e, fromN],
      [e, toN],
    ],
    name,
  );

describe("a second one behind", () => {
  test("two walls that each end in the way: the better is the backstop, the farther one is named behind it", () => {
    const { backstop, second, notes } = stopped([
      across("wall", 1100, -500, 30, "near"),
      across("fence", 1300, -25, 500, "far"),
    ]);
    expect(backstop?.name).toBe("near");
    expect(second?.name).toBe("far");
    expect(notes.join(" ")).toMatch(/Behind it the fence far, 300 m beyond the target, stops \d\d %\./);
  });

  test("a wood edge is passed unnoticed more easily than a road: the road behind it is named", () => {
    const { backstop, second } = stopped([
      across("woodEdge", 1100),
      across("road", 1350, -500, 500, "Moor Road"),
    ]);
    expect(backstop?.kind).toBe("woodEdge");
    expect(second?.name).toBe("Moor Road");
  });

  test("a stream at the target has the road behind it", () => {
    const { backstop, second } = stopped([
      across("stream", 1000),
      across("road", 1200, -500, 500, "Moor Road"),
    ]);
    expect(backstop).toMatchObject({ kind: "stream", beyondM: 0 });
    expect(second).toMatchObject({ kind: "road", name: "Moor Road" });
    expect(second?.beyondM).toBeCloseTo(200, 0);
  });

  test("a strong one needs none; a weak one with nothing behind it has none", () => {
    expect(stopped([across("road", 1100), across("wall", 1200)]).second).toBeNull();
    const weak = stopped([across("road", 1150, -500, 20)]);
    expect(weak.backstop?.stoppedShare).toBeLessThan(0.9);
    expect(weak.second).toBeNull();
  });
});

describe("how it looks", () => {
  test("kind, name, what the map says besides, where, at what angle, and the ground before it", () => {
    const stream = {
      ...across("stream", 1120, -500, 500, "Fern Beck"),
      attributes: { width: 3, intermittent: 1 },
    };
    // Falls 1 in 10 all the way: 5.7°.
    expect(stopped([stream], (p) => 500 - metres(p)[0] / 10).looks).toBe(
      "Stream Fern Beck (3 m wide, dry at times), 120 m beyond the target: it lies square across the way; the ground before it falls at 6°.",
    );
  });

  test("a road met aslant, with no heights: no slope is claimed", () => {
    const looks = stopped([
      drawn("road", [
        [700, -400],
        [1500, 400],
      ]),
    ]).looks;
    expect(looks).toMatch(/^Road, 1\d\d m beyond the target: it crosses the way aslant\.$/);
  });

  test("no backstop, no looks", () =>
    expect(stopped([])).toMatchObject({ backstop: null, second: null, looks: null }));
});
