/**
 * What a line's attributes say. Fields and values as in the published descriptions of open tile schemas, from memory:
 * OpenMapTiles (class, brunnel, intermittent 0/1), Shortbread (kind, tunnel, bridge), OpenStreetMap (width in metres, with
 * or without the unit; tunnel=culvert).
 */
import { describe, expect, test } from "vitest";
import { isUnderground, lineDetail, widthM } from "../../../core/legs/crossings/crossing-detail.ts";
import { crossedWords } from "../../../core/legs/leg-words.ts";
import type { Attributes, LineFeature } from "../../../core/map/features.ts";
import type { Kind } from "../../../core/map/kinds.ts";
import { drawn } from "./support/line-map.ts";

const line = (kind: Kind, attributes: Attributes): LineFeature => ({
  ...drawn(kind, [
    [0, 0],
    [1, 1],
  ]),
  attributes,
});

describe("what the map says of a line", () => {
  test.for<[Kind, Attributes, string | null]>([
    ["stream", {}, null],
    ["stream", { class: "stream" }, null],
    ["stream", { class: "ditch", intermittent: 1 }, "a ditch, dry at times"],
    ["stream", { width: 2 }, "2 m wide"],
    ["stream", { width: "2.4 m", intermittent: "yes" }, "2 m wide, dry at times"],
    ["stream", { width: 0.5 }, "under 1 m wide"],
    ["stream", { waterway: "stream", tunnel: "culvert" }, "under the ground"],
    ["stream", { class: "stream", brunnel: "tunnel" }, "under the ground"],
    ["river", { class: "canal", width: 12 }, "a canal, 12 m wide"],
    ["path", { class: "track" }, "a track"],
    ["path", { class: "path" }, null],
    ["road", { class: "minor" }, "a minor road"],
    ["road", { kind: "residential", bridge: true }, "a minor road, on a bridge"],
    ["road", { class: "primary", brunnel: "tunnel" }, "a main road, in a tunnel"],
    ["wall", { class: "stone" }, "of stone"],
    ["wall", { width: 2 }, null],
    ["powerLine", { class: "overhead" }, null],
  ])("%s %o: %s", ([kind, attributes, words]) => {
    expect(lineDetail(line(kind, attributes), "metric")).toBe(words);
  });

  test.for<[Attributes[string], number | null]>([
    [3, 3],
    ["3,5", 3.5],
    ["12 m", 12],
    ["wide", null],
    ["5 ft", null],
    [-1, null],
    [0, null],
    [Number.NaN, null],
    [true, null],
  ])("width %o is %o m", ([width, metres]) => {
    expect(widthM(width === undefined ? {} : { width })).toBe(metres);
  });

  test("in feet for who measures in feet", () => {
    expect(lineDetail(line("stream", { width: 3.048 }), "imperial")).toBe("10 ft wide");
  });

  test("what runs under the ground is known from each of the fields", () => {
    for (const attributes of [
      { brunnel: "tunnel" },
      { tunnel: true },
      { is_tunnel: 1 },
      { tunnel: "culvert" },
    ])
      expect(isUnderground(line("stream", attributes as Attributes))).toBe(true);
    for (const attributes of [{}, { brunnel: "bridge" }, { tunnel: false }, { tunnel: "no" }])
      expect(isUnderground(line("stream", attributes as Attributes))).toBe(false);
  });

  test("in a list: kind, name and detail; a change of slope in its own words; a contour by its height", () => {
    const met = {
      name: null,
      atM: 1,
      elevationM: 350,
      paces: 1,
      crossingDeg: 90,
      detail: null,
      enters: null,
    };
    const words = (crossing: Partial<Parameters<typeof crossedWords>[0]> & { kind: Kind }): string =>
      crossedWords({ ...met, ...crossing }, "metric").replaceAll("\u00a0", " ");
    expect(words({ kind: "stream", name: "Fern Beck", detail: "2 m wide" })).toBe(
      "stream Fern Beck, 2 m wide",
    );
    expect(words({ kind: "wall", detail: "of stone" })).toBe("wall of stone");
    expect(words({ kind: "drop", detail: "the climb of 12° levels out" })).toBe(
      "the climb of 12° levels out",
    );
    expect(words({ kind: "contour" })).toBe("index contour 350 m");
  });
});
