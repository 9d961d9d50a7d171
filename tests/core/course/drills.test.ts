/**
 * Worksheets by many seeds: every answer worked out anew from the question and the raw tiles, by code that shares nothing with
 * what asks. Places in UTM by proj4, lengths by GeographicLib; each check names its source.
 */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import geomagnetism from "geomagnetism";
import proj4 from "proj4";
import { beforeAll, describe, expect, test } from "vitest";
import {
  DRILL_KINDS,
  type DrillKind,
  type Question,
  type Worksheet,
} from "../../../core/course/drills/drill.ts";
import { chanceOf } from "../../../core/course/course-random.ts";
import { DrillGround } from "../../../core/course/drills/drill-ground.ts";
import { makeWorksheet } from "../../../core/course/drills/make-worksheet.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import { type Ground, openGround } from "../../../core/terrain/ground.ts";
import { crossing, distanceTo, planeAt } from "./plane.ts";
import { metresBetween, type RawFeature, RawMap, type Xy } from "./raw-map.ts";

const BASE = resolve(import.meta.dirname, "../../../sample-maps/uldermoor");
const DATE = "2026-06-01";
const SCALE = 25_000;
const CENTRE: Xy = [-133.195, 46.334];
/** `LEGWRIGHT_SEEDS=200` for the long run by hand. */
const SEEDS = Number(process.env["LEGWRIGHT_SEEDS"] ?? 6);
const RAD = Math.PI / 180;

let ground: Ground;
let raw: RawMap;
const sheets: Worksheet[] = [];

const source = (path: string) => {
  const bytes = readFileSync(path);
  return {
    key: path,
    sizeBytes: bytes.length,
    read: async (from: number, length: number) => new Uint8Array(bytes.subarray(from, from + length)),
  };
};

beforeAll(async () => {
  ground = await openGround(source(`${BASE}.pmtiles`), source(`${BASE}.terrain.pmtiles`));
  raw = await RawMap.open(BASE);
  for (let seed = 1; seed <= SEEDS; seed++) sheets.push(await sheet(seed, 30));
}, 3_600_000);

const sheet = (seed: number, questions: number, kinds?: readonly DrillKind[]): Promise<Worksheet> =>
  makeWorksheet(
    {
      centre: [CENTRE[0], CENTRE[1]],
      radiusM: 2000,
      scale: SCALE,
      kinds: kinds ?? DRILL_KINDS,
      questions,
      seed,
    },
    ground,
    { ...DEFAULT_LEG_SETTINGS, date: DATE },
  );

const all = (kind: DrillKind): Question[] =>
  sheets.flatMap(({ questions }) => questions.filter((question) => question.kind === kind));

const utm = (at: Xy): Xy =>
  proj4("+proj=utm +zone=8 +datum=WGS84 +units=m +no_defs", [at[0], at[1]]) as unknown as Xy;
const markOf = ({ marks }: Question, i: number): Xy => {
  const mark = marks[i];
  if (!mark) throw new Error("no such mark");
  return [mark.lonLat[0], mark.lonLat[1]];
};
const gridBearing = (a: Xy, b: Xy): number => {
  const [[e0, n0], [e1, n1]] = [utm(a), utm(b)];
  return (Math.atan2(e1 - e0, n1 - n0) / RAD + 360) % 360;
};
const apart = (a: number, b: number): number => Math.abs(((a - b + 540) % 360) - 180);
/** "345°" in a sentence, as a number. */
const degreesIn = (text: string, form: RegExp): number => Number(form.exec(text)?.[1]);
const mid = (a: Xy, b: Xy, share: number): Xy => [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];

test("every kind is asked, every mark lies on the sheet and on the map", () => {
  for (const { questions } of sheets) {
    expect(questions.length).toBeGreaterThanOrEqual(25);
    expect(new Set(questions.map(({ ask }) => ask)).size).toBe(questions.length);
    for (const { marks, working, answer } of questions) {
      expect(working.length).toBeGreaterThan(0);
      expect(answer.accepted).toMatch(/\.$/);
      for (const { lonLat } of marks) {
        expect(metresBetween(CENTRE, [lonLat[0], lonLat[1]])).toBeLessThan(2001);
        const [west, south, east, north] = raw.bounds;
        expect(lonLat[0] > west && lonLat[0] < east && lonLat[1] > south && lonLat[1] < north).toBe(true);
      }
    }
  }
  for (const kind of ["bearing", "norths", "back", "reference", "distance", "climb", "landform"] as const)
    expect(all(kind).length, kind).toBeGreaterThanOrEqual(SEEDS);
});

// A person waits for it: 2 s a sheet, counted in kilometres of legs looked at, not in time.
test("a search for what is not there ends", async () => {
  const wish = { centre: CENTRE, radiusM: 2000, scale: SCALE, kinds: DRILL_KINDS, questions: 1, seed: 1 };
  const lent = new DrillGround(ground, wish, { ...DEFAULT_LEG_SETTINGS, date: DATE }, chanceOf(1));
  let legs = 0;
  while (await lent.leg(CENTRE, [CENTRE[0] + 0.02, CENTRE[1] + 0.01])) legs++;
  expect(legs).toBeGreaterThan(20);
  expect(legs).toBeLessThan(160);
  // A lone kind, and more questions than this ground has: what is left out is said.
  const { questions, notes } = await sheet(2, 60, ["handrail"]).catch((thrown: unknown) => ({
    questions: [],
    notes: [String(thrown)],
  }));
  expect(questions.length).toBeLessThan(60);
  expect(notes.join(" ")).toMatch(/of the kind “choose what to follow”/);
}, 60_000);

test("bearings are those of the coordinates, on lines long enough for the tolerance", () => {
  for (const question of all("bearing")) {
    const [a, b] = [markOf(question, 0), markOf(question, 1)];
    const { value, within, text } = question.answer;
    expect(apart(value as number, gridBearing(a, b))).toBeLessThan(0.01);
    expect(apart(degreesIn(text, /^(\d{3})° grid$/), gridBearing(a, b))).toBeLessThanOrEqual(0.51);
    // A pencil line a millimetre off at one end stays within what counts as right.
    const mm = (metresBetween(a, b) * 1000) / SCALE;
    expect(Math.atan(1 / mm) / RAD).toBeLessThan(within as number);
  }
});

test("harder sheets ask closer, on lines long enough for it, and more contours", async () => {
  const climbs: number[] = [];
  for (const [level, withinDeg] of [
    ["easy", 3],
    ["middle", 2],
    ["hard", 1],
  ] as const) {
    const { questions } = await makeWorksheet(
      {
        centre: CENTRE,
        radiusM: 2000,
        scale: SCALE,
        kinds: ["bearing", "climb", "back"],
        questions: 12,
        level,
        seed: 4,
      },
      ground,
      { ...DEFAULT_LEG_SETTINGS, date: DATE },
    );
    for (const question of questions) {
      const { value, within, text } = question.answer;
      if (question.kind === "back" && level === "easy") expect((value ?? NaN) % 10).toBe(0);
      if (question.kind === "climb")
        climbs.push((text.match(/\d+/g) ?? []).reduce((sum, figure) => sum + Number(figure), 0));
      if (question.kind !== "bearing") continue;
      expect(within).toBe(withinDeg);
      const mm = (metresBetween(markOf(question, 0), markOf(question, 1)) * 1000) / SCALE;
      expect(Math.atan(1 / mm) / RAD).toBeLessThan(withinDeg);
    }
  }
  // Of 10 m each: at most 7, at least 8.
  expect(climbs[0]).toBeLessThanOrEqual(70);
  expect(climbs.at(-1)).toBeGreaterThanOrEqual(80);
});

test("distances are those of the ellipsoid, within a millimetre on the sheet", () => {
  for (const question of all("distance")) {
    const metres = metresBetween(markOf(question, 0), markOf(question, 1));
    const { value, within, text } = question.answer;
    expect(Math.abs((value as number) - metres)).toBeLessThan(0.5);
    expect(Math.abs(Number(text.replace(/[^\d]/g, "")) - metres)).toBeLessThan(1);
    expect(within).toBe(SCALE / 1000);
  }
});

/**
 * A reference of 100 m by the arithmetic of NGA.SIG.0012 (from memory): columns A–H, J–R, S–Z by zone modulo 3, rows A–V
 * without I and O every 2 000 km, even zones beginning at F; figures cut off, not rounded.
 */
function reference([easting, northing]: Xy, zone: number, band: string): string {
  const columns = ["STUVWXYZ", "ABCDEFGH", "JKLMNPQR"][zone % 3] as string;
  const rows = "ABCDEFGHJKLMNPQRSTUV";
  const column = columns[Math.floor(easting / 100_000) - 1] ?? "?";
  const row = rows[(Math.floor(northing / 100_000) + (zone % 2 === 0 ? 5 : 0)) % 20] ?? "?";
  const figures = (metres: number): string => String(Math.floor((metres % 100_000) / 100)).padStart(3, "0");
  return `${String(zone).padStart(2, "0")}${band} ${column}${row} ${figures(easting)} ${figures(northing)}`;
}

test("grid references are those of the arithmetic, and no other within 20 m", () => {
  for (const question of all("reference")) {
    const [east, north] = utm(markOf(question, 0));
    // 40° to 48° north is band T.
    const wanted = reference([east, north], 8, "T");
    expect(question.answer.text).toBe(`${wanted.slice(-7)} (in full ${wanted})`);
    for (const [dx, dy] of [
      [20, 20],
      [-20, 20],
      [20, -20],
      [-20, -20],
    ] as const)
      expect(reference([east + dx, north + dy], 8, "T")).toBe(wanted);
  }
});

// Source of the rule: TC 3-25.26 table 6-1, an easterly angle is added from magnetic to grid and taken off from grid to magnetic.
test("norths are turned by the handbook's rule, with the angle of this place and day", () => {
  const declination = geomagnetism.model(new Date(`${DATE}T00:00:00Z`)).point([CENTRE[1], CENTRE[0]]).decl;
  // Snyder, USGS PP 1395: tan of the convergence is the tangent of the longitude off the meridian times the sine of the latitude.
  const convergence = Math.atan(Math.tan((CENTRE[0] + 135) * RAD) * Math.sin(CENTRE[1] * RAD)) / RAD;
  for (const { ask, answer } of all("norths")) {
    const [, what, size, side] = /the (.+?) is (\d+)°\s([EW])\./.exec(ask) ?? [];
    const [, given, from, to] = /is (\d{3})° (magnetic|grid|true)\. What is it (\w+)\?/.exec(ask) ?? [];
    const angle = Number(size) * (side === "E" ? 1 : -1);
    const exact = what === "declination" ? declination : declination - convergence;
    expect(Math.abs(angle - exact)).toBeLessThan(0.55);
    expect([from, to]).toContain("magnetic");
    expect([from, to]).toContain(what === "declination" ? "true" : "grid");
    const wanted = (Number(given) + (from === "magnetic" ? angle : -angle) + 360) % 360;
    expect(answer.value).toBe(wanted);
    expect(answer.text).toBe(`${String(wanted).padStart(3, "0")}° ${to}`);
  }
});

test("back bearings lie half a circle off", () => {
  for (const { ask, answer } of all("back"))
    expect(answer.value).toBe((degreesIn(ask, /bearing of (\d{3})°/) + 180) % 360);
});

/** Where the segment meets raw contours, metres from a, with their heights; the same line in two tiles' margins counts once. */
function contoursMet(a: Xy, b: Xy): { readonly atM: number; readonly height: number }[] {
  const plane = planeAt(a);
  const [start, end] = [plane(a), plane(b)];
  const length = Math.hypot(end[0], end[1]);
  const met: { atM: number; height: number }[] = [];
  for (const { role, height, parts } of raw.features) {
    if (role !== "contour" || height === null) continue;
    for (const part of parts) {
      const line = part.map(plane);
      for (let i = 1; i < line.length; i++) {
        const share = crossing(start, end, line[i - 1] as Xy, line[i] as Xy);
        if (share === null) continue;
        const atM = share * length;
        if (!met.some((one) => one.height === height && Math.abs(one.atM - atM) < 2))
          met.push({ atM, height });
      }
    }
  }
  return met.sort((x, y) => x.atM - y.atM);
}

test("climb is counted on the raw contours, ends clear of them", () => {
  const contours = raw.features.filter(({ role }) => role === "contour");
  for (const question of all("climb")) {
    const [a, b] = [markOf(question, 0), markOf(question, 1)];
    const met = contoursMet(a, b);
    const lengthM = metresBetween(a, b);
    const [, up, down] = /^(\d+)\sm up, (\d+)\sm down$/.exec(question.answer.text) ?? [];
    const ups = Number(up) / 10;
    const downs = Number(down) / 10;
    // All contours are met going up or down, and the two ends' heights say how many more of one than of the other.
    expect(met.length, question.ask).toBe(ups + downs);
    const band = (at: Xy): number => Math.floor(raw.heightAt(at) / 10);
    expect(band(b) - band(a), question.ask).toBe(ups - downs);
    expect(question.answer.value).toBe(Number(up));
    // 0.8 mm on the sheet: nobody counts a contour beside a mark by mistake, on the line or off it.
    for (const { atM } of met) expect(Math.min(atM, lengthM - atM)).toBeGreaterThan(18);
    for (const end of [a, b]) expect(nearestM(end, contours), question.ask).toBeGreaterThan(18);
  }
});

test("a profile's heights are those of the raw terrain, within the interval allowed", () => {
  for (const question of all("profile")) {
    const [a, b] = [markOf(question, 0), markOf(question, 1)];
    const { sketch } = question.answer;
    if (!sketch) throw new Error("no sketch");
    const lengthM = metresBetween(a, b);
    expect(sketch.distanceM).toHaveLength(9);
    sketch.distanceM.forEach((metres, i) =>
      expect(
        Math.abs((sketch.elevationM[i] ?? NaN) - raw.heightAt(mid(a, b, metres / lengthM))),
      ).toBeLessThan(10),
    );
    const heights = Array.from({ length: 400 }, (_, i) => raw.heightAt(mid(a, b, i / 399)));
    const [, high, low] = /Highest (\d+)\sm .+lowest (\d+)\sm/.exec(question.answer.text) ?? [];
    expect(Math.abs(Number(high) - Math.max(...heights))).toBeLessThan(5);
    expect(Math.abs(Number(low) - Math.min(...heights))).toBeLessThan(5);
  }
});

/** Heights around a place, every 15°, less its own. */
function around(at: Xy, radiusM: number): number[] {
  const [east, north] = [
    metresBetween(at, [at[0] + 0.001, at[1]]) * 1000,
    metresBetween(at, [at[0], at[1] + 0.001]) * 1000,
  ];
  const own = raw.heightAt(at);
  return Array.from({ length: 24 }, (_, i) => {
    const angle = i * 15 * RAD;
    return (
      raw.heightAt([
        at[0] + (radiusM * Math.sin(angle)) / east,
        at[1] + (radiusM * Math.cos(angle)) / north,
      ]) - own
    );
  });
}

/** Whether the raw heights have the shape the handbook draws (TC 3-25.26 chapter 9), at some size of ring. */
function hasShape(word: string, at: Xy): boolean {
  return [30, 50, 75, 100, 150, 200, 300, 400].some((radiusM) => {
    const rise = around(at, radiusM);
    const both = (test: (metres: number) => boolean) => (i: number) =>
      test(rise[i] as number) && test(rise[(i + 12) % 24] as number);
    const lower = [...rise.keys()].filter(both((metres) => metres < -1));
    const higher = [...rise.keys()].filter(both((metres) => metres > 1));
    switch (word) {
      case "hill":
        return rise.every((metres) => metres < 0);
      case "depression":
        return rise.every((metres) => metres > 0);
      case "saddle": {
        // Up, down, up, down as one looks round.
        const signs = rise.filter((metres) => Math.abs(metres) > 0.3).map((metres) => metres > 0);
        return signs.filter((up, i) => up !== signs.at(i - 1)).length >= 4;
      }
      case "ridge":
      case "spur":
        return lower.length > 0;
      case "valley":
      case "draw":
        return higher.length > 0;
      default:
        return false;
    }
  });
}

test("landforms have the shape of their name in the raw terrain", () => {
  for (const question of all("landform")) {
    const word = /^A (\w+)$/.exec(question.answer.text)?.[1] ?? "";
    expect(hasShape(word, markOf(question, 0)), `${word} at ${question.marks[0]?.lonLat.join()}`).toBe(true);
  }
});

/** The raw role that is drawn as each word. */
const ROLE: Readonly<Record<string, string>> = {
  stream: "stream",
  river: "stream",
  shore: "water",
  path: "path",
  road: "road",
  wall: "wall",
  fence: "fence",
  railway: "rail",
  edge: "wood",
  wood: "wood",
  power: "powerLine",
};
const roleOf = (line: string): string | null => {
  const [first = "", last = ""] = [line.split(" ")[0], line.split(" ").at(-1)];
  return ROLE[first] ?? ROLE[last?.toLowerCase() ?? ""] ?? null;
};
const LINES = new Set(Object.values(ROLE));

type Segment = readonly [Xy, Xy];

/** Segments of features around two places, in a plane at the first of them, metres. All of a map for every place takes hours. */
function segmentsAround(a: Xy, b: Xy, features: readonly RawFeature[]): Segment[] {
  const plane = planeAt(a);
  const far = 0.004;
  const [west, east] = [Math.min(a[0], b[0]) - far, Math.max(a[0], b[0]) + far];
  const [south, north] = [Math.min(a[1], b[1]) - far, Math.max(a[1], b[1]) + far];
  return features
    .filter(({ box }) => box[0] < east && box[1] > west && box[2] < north && box[3] > south)
    .flatMap(({ parts }) =>
      parts.flatMap((part) =>
        part.slice(1).flatMap((to, i): Segment[] => {
          const from = part[i] as Xy;
          const away =
            Math.max(from[0], to[0]) < west ||
            Math.min(from[0], to[0]) > east ||
            Math.max(from[1], to[1]) < south ||
            Math.min(from[1], to[1]) > north;
          return away ? [] : [[plane(from), plane(to)]];
        }),
      ),
    );
}

/** The place on a segment nearest to another. */
function footOn([x, y]: Xy, [p, q]: Segment): Xy {
  const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
  const square = dx * dx + dy * dy;
  const share = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - p[0]) * dx + (y - p[1]) * dy) / square));
  return [p[0] + share * dx, p[1] + share * dy];
}

const nearestM = (at: Xy, features: readonly RawFeature[]): number =>
  segmentsAround(at, at, features).reduce(
    (best, [p, q]) => Math.min(best, distanceTo([0, 0], p, q)),
    Infinity,
  );

test("aiming off: the target stands on the line, the bearing is the sum, the turn leads back to it", () => {
  for (const question of all("aimOff")) {
    const [a, b] = [markOf(question, 0), markOf(question, 1)];
    const [, line = "", given, offset, side] =
      /lies on the (.+?), is (\d{3})° grid\. You aim off (\d+)° to the (left|right)/.exec(question.ask) ?? [];
    expect(apart(Number(given), gridBearing(a, b))).toBeLessThan(0.52);
    const wanted = (Number(given) + (side === "left" ? -1 : 1) * Number(offset) + 360) % 360;
    expect(question.answer.value).toBe(wanted);
    // Left of the target as one faces it, the target lies to the right.
    expect(question.answer.text).toBe(
      `${String(wanted).padStart(3, "0")}° grid, then turn ${side === "left" ? "right" : "left"}`,
    );
    expect(Number(offset)).toBeGreaterThanOrEqual(2);
    const role = roleOf(line);
    const lines = raw.features.filter((one) => (role === null ? LINES.has(one.role) : one.role === role));
    // Half a millimetre on the sheet: nearer nobody sees them apart.
    expect(nearestM(b, lines), line).toBeLessThan(SCALE / 2000);
  }
});

describe("what to follow", () => {
  test("runs beside the leg on the side that is told, and nothing else does", async () => {
    // Rare on this map: asked for alone, over more seeds.
    const questions: Question[] = [];
    for (let seed = 1; seed <= SEEDS; seed++)
      questions.push(
        ...(await sheet(seed + 500, 3, ["handrail", "back"])).questions.filter(
          ({ kind }) => kind === "handrail",
        ),
      );
    expect(questions.length).toBeGreaterThan(0);
    for (const question of questions) {
      const [a, b] = [markOf(question, 0), markOf(question, 1)];
      const [, line = "", side] = /^The (.+), on the (left|right)$/.exec(question.answer.text) ?? [];
      const role = roleOf(line);
      const lines = raw.features.filter((one) => (role === null ? LINES.has(one.role) : one.role === role));
      const { near, onSide } = besideLeg(a, b, lines, side === "right" ? 1 : -1);
      expect(near, question.answer.text).toBeGreaterThan(0.65);
      expect(onSide, question.answer.text).toBeGreaterThan(0.5);
    }
  }, 600_000);
});

/** Of 41 places along the leg, the share with a raw line near; of those, the share that has it on that side (1 right). */
function besideLeg(
  a: Xy,
  b: Xy,
  lines: readonly RawFeature[],
  side: 1 | -1,
): { readonly near: number; readonly onSide: number } {
  const segments = segmentsAround(a, b, lines);
  const [east, north] = planeAt(a)(b);
  let [on, seen] = [0, 0];
  for (let i = 0; i <= 40; i++) {
    const at: Xy = [(east * i) / 40, (north * i) / 40];
    let [best, right] = [Infinity, 0];
    for (const segment of segments) {
      const foot = footOn(at, segment);
      const away = Math.hypot(foot[0] - at[0], foot[1] - at[1]);
      if (away >= best) continue;
      best = away;
      right = (foot[0] - at[0]) * north - (foot[1] - at[1]) * east;
    }
    if (best > 110) continue;
    seen++;
    if (right * side > 0) on++;
  }
  return { near: seen / 41, onSide: seen === 0 ? 0 : on / seen };
}
