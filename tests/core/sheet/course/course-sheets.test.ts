/**
 * Sheets of courses as pages: what the learner must not be told is not on the learner's sheet, stakes stand where the course says,
 * millimetres are measured on the drawn items. Plane trigonometry is the test's own.
 */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { type Course, LEVEL_RULES } from "../../../../core/course/course.ts";
import { makeCourse } from "../../../../core/course/make-course.ts";
import { fieldCourse } from "../../../../core/course/small-ground.ts";
import { DEFAULT_ADVICE_SETTINGS } from "../../../../core/legs/advice/advice-settings.ts";
import { CAUTIONS, INVENTED } from "../../../../core/legs/cautions.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../../core/legs/leg-settings.ts";
import { FIELD_CAUTIONS } from "../../../../core/course/cautions.ts";
import { coursePages, type CourseSheetWish } from "../../../../core/sheet/course/course-pages.ts";
import { fieldPages } from "../../../../core/sheet/course/field-pages.ts";
import { fieldPlan } from "../../../../core/sheet/course/field-plan.ts";
import { paperSize } from "../../../../core/sheet/page/paper-size.ts";
import type { GroupItem, Page, PageItem, ShapeItem, TextItem } from "../../../../core/sheet/page/page.ts";
import { type Ground, openGround } from "../../../../core/terrain/ground.ts";
import { metresBetween, type Xy } from "../../course/raw-map.ts";
import { plainRuler } from "../furniture/plain-ruler.ts";

const BASE = resolve(import.meta.dirname, "../../../../sample-maps/uldermoor");
const LOOK = { paper: paperSize("a4"), large: false, blackAndWhite: false };
const MM_PER_M = 1000;

const flat = (items: readonly PageItem[]): readonly PageItem[] =>
  items.flatMap((item) => (item.kind === "group" ? flat(item.items) : [item]));
const textsOf = (pages: readonly Page[]): string[] =>
  pages.flatMap(({ items }) => flat(items).flatMap((item) => (item.kind === "text" ? [item.text] : [])));
const said = (pages: readonly Page[]): string => textsOf(pages).join(" ").replace(/\s+/g, " ");
const groupOf = (items: readonly PageItem[], name: string): GroupItem[] =>
  items.flatMap((item) =>
    item.kind === "group" ? [...(item.name === name ? [item] : []), ...groupOf(item.items, name)] : [],
  );
const source = (path: string) => {
  const bytes = readFileSync(path);
  return {
    key: path,
    sizeBytes: bytes.length,
    read: async (from: number, length: number) => new Uint8Array(bytes.subarray(from, from + length)),
  };
};

describe("sheets of a course on the demo map", () => {
  let ground: Ground;
  let course: Course;
  const wish: CourseSheetWish = {
    ...LOOK,
    parts: ["learner"],
    give: "legs",
    scale: null,
    date: "2026-06-01",
    graduationDeg: 1,
  };
  const drawn = async (change: Partial<CourseSheetWish>) =>
    (await coursePages([{ name: "A", course, broken: [] }], { ...wish, ...change }, ground, plainRuler))
      .pages;

  beforeAll(async () => {
    ground = await openGround(source(`${BASE}.pmtiles`), source(`${BASE}.terrain.pmtiles`));
    course = await makeCourse(
      { ...LEVEL_RULES.middling, kind: "round", start: [-133.195, 46.334], points: 3, seed: 2 },
      ground,
      { legs: { ...DEFAULT_LEG_SETTINGS, date: "2026-06-01" }, advice: DEFAULT_ADVICE_SETTINGS },
    );
  });

  test("the learner is told bearings and lengths, not where the points are", async () => {
    const pages = await drawn({});
    const texts = textsOf(pages);
    for (const { figures } of course.legs) {
      const bearing = `${String(Math.round(figures.bearingMagneticDeg ?? NaN) % 360).padStart(3, "0")}°`;
      expect(texts).toContain(bearing);
    }
    for (const { words } of course.points.slice(1)) expect(said(pages)).not.toContain(words);
    expect(
      groupOf(
        pages.flatMap(({ items }) => items),
        "legs",
      ),
    ).toEqual([]);
    expect(
      groupOf(
        pages.flatMap(({ items }) => items),
        "mark labels",
      ).flatMap(({ items }) => items),
    ).toHaveLength(1);
    for (const caution of [...CAUTIONS, INVENTED]) expect(said(pages)).toContain(caution);
  });

  test("with points on the map, bearings are for the learner to find", async () => {
    const pages = await drawn({ give: "map" });
    expect(textsOf(pages).filter((text) => /^\d{3}°$/.test(text))).toEqual([]);
    expect(
      groupOf(
        pages.flatMap(({ items }) => items),
        "mark labels",
      ).flatMap(({ items }) => items),
    ).toHaveLength(4);
  });

  test("the setter has every point, and the legs are as long on paper as on the ground", async () => {
    const pages = await drawn({ parts: ["setter"] });
    for (const { words } of course.points.slice(1)) expect(said(pages)).toContain(words);
    expect(said(pages)).toContain("Every rule that was asked for is kept.");
    const scale = Number(/1:\s?([\d\s\u00a0\u202f,]+)/.exec(said(pages))?.[1]?.replace(/\D/g, ""));
    const [legs] = groupOf(
      pages.flatMap(({ items }) => items),
      "legs",
    );
    const lines = legs ? flat([legs]).flatMap((item) => (item as ShapeItem).shape.parts) : [];
    expect(lines).toHaveLength(course.legs.length);
    course.legs.forEach(({ from, to }, i) => {
      const [x0, y0, x1, y1] = [...(lines[i] as Float64Array)] as [number, number, number, number];
      const ends = [from, to].map((n) => course.points[n]?.lonLat as unknown as Xy) as [Xy, Xy];
      // The line leaves 2.4 mm free at each end; a grid's own scale is within 0.1 % of the ground's.
      const mm = (metresBetween(...ends) * MM_PER_M) / scale;
      expect(Math.hypot(x1 - x0, y1 - y0) + 4.8).toBeCloseTo(mm, 0);
    });
  });

  test("by how much the legs as written miss the start is told as a sum of its own gives it", async () => {
    const RAD = Math.PI / 180;
    let [east, north] = [0, 0];
    for (const { figures: f } of course.legs) {
      const turned = Math.round(f.bearingGridDeg ?? NaN) * RAD;
      east += Math.round(f.distanceM) * Math.sin(turned);
      north += Math.round(f.distanceM) * Math.cos(turned);
    }
    expect(said(await drawn({ parts: ["setter"] }))).toMatch(
      new RegExp(`ends ${Math.hypot(east, north).toFixed(1)}.m from the start`),
    );
  });

  test("a broken rule stands on the setter's sheet", async () => {
    const { pages } = await coursePages(
      [{ name: "A", course, broken: ["Leg 1 breaks a rule: a backstop for every leg."] }],
      { ...wish, parts: ["setter"] },
      ground,
      plainRuler,
    );
    expect(said(pages)).toContain("Leg 1 breaks a rule: a backstop for every leg.");
    expect(said(pages)).not.toContain("Every rule");
  });

  test("the reading table: degrees are the arctangent, percent the share", async () => {
    const texts = textsOf(await drawn({ parts: ["scoring"] })).map((text) => text.replace(/\u00a0/g, " "));
    for (const { figures } of course.legs) {
      const length = Math.round(figures.distanceM);
      expect(texts).toContain(`${((Math.atan2(10, length) * 180) / Math.PI).toFixed(1)}°`);
      expect(texts).toContain(`${(1000 / length).toFixed(1)} %`);
    }
  });
});

describe("sheets for small ground", () => {
  const course = fieldCourse({
    lengthM: 100,
    widthM: 60,
    alongDeg: 40,
    legs: 6,
    legM: [20, 45],
    bearingStepDeg: 5,
    shape: "closed",
    seed: 1,
  });

  test("the plan is true to scale: rectangle, stakes, rings", () => {
    const { items, scale } = fieldPlan(course, { widthMm: 180, heightMm: 150 }, 9);
    const shapes = (name: string) =>
      flat(groupOf(items, name)).flatMap((item) =>
        item.kind === "shape" ? [item.shape.parts[0] as Float64Array] : [],
      );
    const box = (part: Float64Array) => {
      const [xs, ys] = [part.filter((_, i) => i % 2 === 0), part.filter((_, i) => i % 2 === 1)];
      return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)] as const;
    };
    const mm = (metres: number): number => (metres * MM_PER_M) / scale;
    const [west, east, top, bottom] = box(shapes("ground")[0] as Float64Array);
    expect(east - west).toBeCloseTo(mm(60), 9);
    expect(bottom - top).toBeCloseTo(mm(100), 9);
    const middles = shapes("rings").map((ring, i) => {
      const [x0, x1, y0, y1] = box(ring);
      expect((x1 - x0) / 2).toBeCloseTo(mm(course.stakes[i]?.ringM ?? NaN), 2);
      return [(x0 + x1) / 2, (y0 + y1) / 2] as const;
    });
    for (const [x, y] of middles) expect(x > west && x < east && y > top && y < bottom).toBe(true);
    // Along 040° runs up the page: a leg on 040° + 90° runs to the right.
    course.legs.slice(0, -1).forEach(({ bearingDeg, lengthM }, i) => {
      const [[x0, y0], [x1, y1]] = [
        middles[i] as readonly [number, number],
        middles[i + 1] as readonly [number, number],
      ];
      const angle = ((bearingDeg - 40) * Math.PI) / 180;
      expect(x1 - x0).toBeCloseTo(mm(lengthM * Math.sin(angle)), 6);
      expect(y0 - y1).toBeCloseTo(mm(lengthM * Math.cos(angle)), 6);
    });
  });

  test("stakes and rings are the setter's; the learner has bearings and boxes; each has the cautions", () => {
    const of = (part: "learner" | "setter" | "scoring") =>
      fieldPages(course, { ...LOOK, parts: [part] }, plainRuler).pages;
    for (const part of ["learner", "setter", "scoring"] as const)
      for (const caution of FIELD_CAUTIONS) expect(said(of(part))).toContain(caution);
    expect(said(of("setter"))).toContain("From the corner");
    expect(said(of("learner"))).not.toContain("corner");
    expect(
      groupOf(
        of("learner").flatMap(({ items }) => items),
        "stakes",
      ),
    ).toEqual([]);
    const bold = flat(of("setter").flatMap(({ items }) => items)).filter(
      (item): item is TextItem => item.kind === "text" && item.face === "textBold",
    );
    for (const { label } of course.stakes) expect(bold.map(({ text }) => text)).toContain(label);
  });
});
