/**
 * Legs over ground of a known formula and lines drawn on it, told in words. What is to be said follows from the formula;
 * that an instructor would say it so is common practice, no source. Every leg runs east.
 */
import { describe, expect, test } from "vitest";
import type { LegFigures } from "../../../core/legs/figures.ts";
import { legFigures } from "../../../core/legs/leg-figures.ts";
import { DEFAULT_LEG_SETTINGS, type LegSettings } from "../../../core/legs/leg-settings.ts";
import { walkFigures } from "../../../core/legs/walk-figures.ts";
import { trendsOf } from "../../../core/legs/description/trends.ts";
import type { LineFeature, MapFeatures } from "../../../core/map/features.ts";
import type { ElevationModel } from "../../../core/terrain/elevation.ts";
import { drawn, ground, hills, INFO, lineMap, place } from "./support/line-map.ts";

const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };

function walked(
  lines: readonly LineFeature[],
  height: ((e: number, n: number) => number) | null,
  {
    lengthM = 1000,
    over = {},
    from = "A",
    to = "B",
    map = {},
  }: {
    lengthM?: number;
    over?: Partial<LegSettings>;
    from?: string;
    to?: string;
    map?: Partial<MapFeatures>;
  } = {},
): LegFigures {
  const elevation: ElevationModel | null = height && hills(height);
  return legFigures(
    { n: 1, from: { label: from, lonLat: place(0, 0) }, to: { label: to, lonLat: place(lengthM, 0) } },
    { map: { ...lineMap(lines), ...map }, elevation },
    { ...settings, ...over },
  );
}
const across = (kind: LineFeature["kind"], atM: number, name: string | null = null): LineFeature =>
  drawn(
    kind,
    [
      [atM, -400],
      [atM, 400],
    ],
    name,
  );
const withAttributes = (line: LineFeature, attributes: LineFeature["attributes"]): LineFeature => ({
  ...line,
  attributes,
});
const told = ({ onTheWay }: LegFigures): string[] => onTheWay.map(({ words }) => words);
const slope = (deg: number): number => Math.tan((deg * Math.PI) / 180);

describe("the run of the ground", () => {
  test.for([
    [1, "keep about level all the way"],
    [4, "climb gently, about 70 m up all the way"],
    [-4, "go down gently, about 70 m down all the way"],
    [10, "climb steadily, about 175 m up all the way"],
    [-20, "go down steeply, about 360 m down all the way"],
    [30, "climb very steeply, about 580 m up all the way"],
  ] as const)("a plane of %i° is one sentence: %s", ([deg, words]) => {
    // 1000 m × tan: 17, 70, 70, 176, 364, 577 m.
    const leg = walked([], (e) => 500 + e * slope(deg));
    expect(told(leg)).toEqual([`From A ${words}.`, "At 1000 m you are at B."]);
  });

  test("up to an edge and down again: the turn is told where it is", () => {
    const leg = walked([], (e) => 500 + (e < 600 ? e * slope(10) : 600 * slope(10) - (e - 600) * slope(5)));
    expect(told(leg)).toHaveLength(3);
    expect(told(leg)[0]).toBe("From A climb steadily, about 105 m up over 600 m.");
    expect(told(leg)[1]).toMatch(
      /^At (59\d|60\d) m go over a ridge; then go down gently, about 35 m down over the last 400 m\.$/,
    );
  });

  test("a plain with a dip of 12 m is not called level", () => {
    const leg = walked([], (e) => 500 - 12 * Math.exp(-(((e - 300) / 60) ** 2)), { lengthM: 600 });
    expect(told(leg).join(" ")).not.toMatch(/keep about level all the way/);
  });

  test("pieces follow one another without gaps and their rises add up to that of the leg", () => {
    const { profile } = walked([], (e) => 400 + 60 * Math.sin(e / 130) + e / 10);
    const trends = trendsOf(profile);
    expect(trends.length).toBeGreaterThan(2);
    trends.forEach((t, i) => expect(t.fromM).toBe(i === 0 ? 0 : trends[i - 1]?.toM));
    expect(trends.at(-1)?.toM).toBeCloseTo(1000, 4);
    const rise = trends.reduce((sum, t) => sum + t.riseM, 0);
    expect(rise).toBeCloseTo(60 * Math.sin(1000 / 130) + 100, 1);
  });
});

describe("lines on the way", () => {
  const plane = (): number => 300;
  test("are told in order, with what one does there, and the target from the last of them", () => {
    const leg = walked(
      [
        across("wall", 600),
        withAttributes(across("stream", 180, "Fern Beck"), { class: "stream", width: 1 }),
        across("powerLine", 400),
        across("road", 860, "Moor Road"),
      ],
      plane,
    );
    expect(told(leg)).toEqual([
      "From A keep about level all the way.",
      "At 180 m step over the stream Fern Beck, 1 m wide.",
      "At 400 m pass under a power line.",
      "At 600 m cross a wall.",
      "At 860 m cross Moor Road.",
      "140 m after Moor Road you are at B.",
    ]);
    // 65 double paces to 100 m.
    expect(leg.onTheWay.map(({ paces }) => paces)).toEqual([0, 117, 260, 390, 559, 650]);
    expect(leg.onTheWay.every(({ elevationM }) => Math.abs((elevationM ?? 0) - 300) < 1e-6)).toBe(true);
  });

  test("close together they share a sentence", () => {
    const leg = walked([across("wall", 500), across("path", 520)], plane);
    expect(told(leg)[1]).toBe("At 500 m cross a wall, and 20 m on cross a path.");
  });

  test("a river, a railway and a cliff come with a caution; a culvert and a contour are not told", () => {
    const leg = walked(
      [
        across("river", 200, "River Ull"),
        across("rail", 400),
        across("cliff", 600),
        withAttributes(across("stream", 750), { tunnel: "culvert" }),
        { ...across("contour", 800), elevationM: 300, index: true },
      ],
      plane,
    );
    expect(told(leg).slice(1, 4)).toEqual([
      "At 200 m come to the River Ull: look where it can be crossed.",
      "At 400 m come to a railway: cross only where that is allowed.",
      "At 600 m come to a cliff: look for a way round.",
    ]);
    expect(told(leg).join(" ")).not.toMatch(/750|800|contour/);
    expect(leg.crossings.find(({ kind }) => kind === "stream")?.detail).toBe("under the ground");
    expect(leg.crossings.find(({ kind }) => kind === "contour")).toMatchObject({
      elevationM: 300,
      detail: null,
    });
  });

  test("without heights the lines alone are told", () => {
    const leg = walked([across("wall", 610)], null);
    expect(told(leg)).toEqual(["At 610 m cross a wall.", "At 1000 m you are at B."]);
    expect(leg.onTheWay[0]?.elevationM).toBeNull();
    expect(leg.landformsReason).toMatch(/terrain tiles/);
  });

  test("without lines, heights or map nothing is told", () => {
    expect(told(walked([], null))).toEqual([]);
    const ends = { from: { label: "A", lonLat: place(0, 0) }, to: { label: "B", lonLat: place(500, 0) } };
    expect(legFigures({ n: 1, ...ends }, null, settings).onTheWay).toEqual([]);
    expect(legFigures({ n: 1, from: ends.from, to: ends.from }, ground([]), settings).onTheWay).toEqual([]);
  });

  test("where the map is blind that is told, and no more than the map knows", () => {
    const leg = walked([across("wall", 300)], plane, {
      map: { info: { ...INFO, bounds: [20, -35, place(700, 0)[0], -33] } },
    });
    expect(told(leg)).toContain("From 700 m on the map shows nothing: what is there is not known.");
    expect(leg.blind).toMatchObject([{ reason: "outside" }]);
  });

  test("a wood and a lake the leg goes through: in and out, and round the water", () => {
    const square = (from: number, to: number): Float64Array =>
      Float64Array.from(
        [
          [from, -200],
          [to, -200],
          [to, 200],
          [from, 200],
          [from, -200],
        ].flatMap(([e, n]) => place(e as number, n as number)),
      );
    const wood = {
      kind: "wood",
      name: "High Wood",
      elevationM: NaN,
      rings: [square(200, 400)],
      attributes: {},
    } as const;
    const lake = {
      kind: "water",
      name: "Grey Tarn",
      elevationM: NaN,
      rings: [square(600, 700)],
      attributes: {},
    } as const;
    const edge = (kind: "woodEdge" | "shore", of: typeof wood | typeof lake): LineFeature => ({
      kind,
      name: of.name,
      elevationM: NaN,
      index: false,
      coords: of.rings[0],
      attributes: {},
    });
    const leg = walked([edge("woodEdge", wood), edge("shore", lake)], plane, {
      map: { areas: (_box, kinds) => [wood, lake].filter(({ kind }) => !kinds || kinds.has(kind)) },
    });
    expect(leg.crossings.map(({ kind, enters, detail }) => [kind, enters, detail])).toEqual([
      ["woodEdge", true, "into the wood"],
      ["woodEdge", false, "out of the wood"],
      ["shore", true, "into the water"],
      ["shore", false, "out of the water"],
    ]);
    expect(told(leg).slice(1, 4)).toEqual([
      "At 200 m go into High Wood.",
      "At 400 m come out of High Wood.",
      "From 600 m to 700 m the straight leg lies in the water of Grey Tarn: go round it.",
    ]);
  });

  test("twelve sentences at most, however much there is; the dangers and the last line stay", () => {
    const many = Array.from({ length: 60 }, (_, i) => across(i % 2 ? "path" : "wall", 30 + i * 30));
    const leg = walked([...many, across("cliff", 915)], (e) => 300 + 40 * Math.sin(e / 90), {
      lengthM: 1900,
    });
    expect(told(leg).length).toBeLessThanOrEqual(12);
    expect(told(leg).length).toBeGreaterThanOrEqual(4);
    expect(told(leg).join(" ")).toContain("cliff");
    expect(told(leg).at(-1)).toMatch(/after the (path|wall) you are at B/);
    const at = leg.onTheWay.map(({ atM }) => atM);
    expect(at).toEqual(at.toSorted((a, b) => a - b));
  });
});

describe("the shape of the ground", () => {
  /** A plain with a Gaussian hollow running north to south: a valley straight across the leg. */
  const trough = (atM: number, deepM: number) => (e: number, n: number) =>
    400 - deepM * Math.exp(-(((e - atM) / 90) ** 2)) - n / 200;

  test("a stream in a valley is told once, with the valley", () => {
    const leg = walked([across("stream", 510, "Fern Beck")], trough(500, 40));
    expect(leg.landforms.map(({ kind }) => kind)).toContain("valley");
    expect(leg.crossings.filter(({ kind }) => kind === "valley" || kind === "stream")).toMatchObject([
      { kind: "stream", name: "Fern Beck", detail: "in the valley bottom" },
    ]);
    const words = told(leg).filter((sentence) => /valley|Fern/.test(sentence));
    expect(words).toHaveLength(1);
    expect(words[0]).toMatch(/^At 510 m cross the stream Fern Beck, in the valley bottom; then climb /);
  });

  test("without its stream it is a crossing of its own, at its lowest line", () => {
    const leg = walked([], trough(500, 40));
    const valley = leg.crossings.find(({ kind }) => kind === "valley");
    expect(Math.abs((valley?.atM ?? NaN) - 500)).toBeLessThan(15);
    expect(valley).toMatchObject({ crossingDeg: null, name: null });
    expect(told(leg).some((sentence) => /^At (49|50)\d m cross a valley; then climb/.test(sentence))).toBe(
      true,
    );
  });

  test("a ridge line drawn on a crest is one crossing", () => {
    const crest = (e: number, n: number): number => 400 + 40 * Math.exp(-(((e - 500) / 90) ** 2)) - n / 200;
    const leg = walked([across("ridge", 505)], crest);
    expect(leg.crossings.filter(({ kind }) => kind === "ridge" || kind === "spur")).toHaveLength(1);
    expect(told(leg).filter((sentence) => /ridge|spur/.test(sentence))).toHaveLength(1);
  });

  test("a kink of a slope is a crossing with both its slopes", () => {
    const leg = walked([], (e) => 400 + (e < 500 ? e * slope(3) : 500 * slope(3) + (e - 500) * slope(25)));
    const steep = leg.crossings.filter(({ kind }) => kind === "steep");
    expect(steep).toHaveLength(1);
    expect(Math.abs((steep[0]?.atM ?? NaN) - 500)).toBeLessThan(10);
    expect(steep[0]?.detail).toMatch(/^the climb steepens from [3-4]° to 2[45]°$/);
  });

  test("a summit at the target is told with the target", () => {
    const cone = (e: number, n: number): number => 600 - 0.2 * Math.hypot(e - 1000, n);
    const leg = walked([], cone);
    expect(told(leg).at(-1)).toBe("At 1000 m you are at B, on the top of a hill.");
    expect(told(leg).filter((sentence) => sentence.includes("hill"))).toHaveLength(1);
  });
});

describe("units and names", () => {
  test("in feet for who walks in feet", () => {
    const leg = walked([across("wall", 304.8)], (e) => 300 + e * slope(10), {
      over: { lengthUnit: "imperial" },
    });
    expect(told(leg)[1]).toBe("At 1000 ft cross a wall.");
    // 176.3 m are 578 ft.
    expect(told(leg)[0]).toMatch(/about 580 ft up/);
  });

  test("a leg whose ends are renamed is told with the new names", async () => {
    const over = ground(
      [across("wall", 500)],
      hills(() => 300),
    );
    const ends = (a: string, b: string) => [
      { label: a, lonLat: place(0, 0) },
      { label: b, lonLat: place(1000, 0) },
    ];
    await walkFigures(ends("A", "B"), over, settings);
    const { legs } = await walkFigures(ends("Hut", "Tarn"), over, settings);
    const words = (legs[0]?.onTheWay ?? []).map((step) => step.words).join(" ");
    expect(words).toContain("From Hut ");
    expect(words).toContain("you are at Tarn");
    expect(words).not.toMatch(/\b[AB]\b/);
  });
});
