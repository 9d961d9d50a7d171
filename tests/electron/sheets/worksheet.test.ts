/**
 * A worksheet measured in its own PDF, by the drawing operators: what is asked must be true on the paper. Bearings by proj4's UTM,
 * lengths by GeographicLib (geographiclib-geodesic), neither through the program.
 */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import geographiclib from "geographiclib-geodesic";
import proj4 from "proj4";
import { beforeAll, describe, expect, it } from "vitest";
import type { DrillKind, Worksheet } from "../../../core/course/drills/drill.ts";
import { makeWorksheet } from "../../../core/course/drills/make-worksheet.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import { paperSize } from "../../../core/sheet/page/paper-size.ts";
import { worksheetPages, type WorksheetWish } from "../../../core/sheet/worksheet/worksheet-pages.ts";
import { type Ground, openGround } from "../../../core/terrain/ground.ts";
import { loadSheetFonts, type SheetFonts } from "../../../electron/services/sheets/fonts.ts";
import { pagesPdf } from "../../../electron/services/sheets/pages-pdf.ts";
import { pdfLines, type PdfPage, type PdfPath, readPdfPages } from "../../support/pdf-reader.ts";

const BASE = resolve(import.meta.dirname, "../../../sample-maps/uldermoor");
const DATE = "2026-06-01";
const USUAL: WorksheetWish = { parts: ["learner"], date: DATE, paper: paperSize("a4") };

let ground: Ground;
let fonts: SheetFonts;
beforeAll(async () => {
  const source = (path: string) => {
    const bytes = readFileSync(path);
    return {
      key: path,
      sizeBytes: bytes.length,
      read: async (from: number, length: number) => new Uint8Array(bytes.subarray(from, from + length)),
    };
  };
  ground = await openGround(source(`${BASE}.pmtiles`), source(`${BASE}.terrain.pmtiles`));
  fonts = await loadSheetFonts();
});

const made = (
  kinds: readonly DrillKind[],
  questions: number,
  seed: number,
  scale = 25_000,
): Promise<Worksheet> =>
  makeWorksheet({ centre: [-133.195, 46.334], radiusM: 2000, scale, kinds, questions, seed }, ground, {
    ...DEFAULT_LEG_SETTINGS,
    date: DATE,
  });

async function printed(sheet: Worksheet, wish: Partial<WorksheetWish> = {}) {
  const set = await worksheetPages(sheet, { ...USUAL, ...wish }, ground, fonts.ruler);
  return { set, pages: readPdfPages(await pagesPdf(set, fonts, { date: new Date(`${DATE}T00:00:00Z`) })) };
}

type Xy = readonly [number, number];
const inGroup = (page: PdfPage, name: string): PdfPath[] =>
  page.paths.filter(({ groups }) => groups.includes(name));
const pieces = (page: PdfPage, name: string): number[][] =>
  inGroup(page, name).flatMap(({ parts }) => parts.map((part) => [...part]));

/** Middles of the crosses by their labels, millimetres. */
function crosses(pages: readonly PdfPage[]): Map<string, { readonly at: Xy; readonly page: PdfPage }> {
  const found = new Map<string, { at: Xy; page: PdfPage }>();
  for (const page of pages) {
    const arms = pieces(page, "marks");
    const labels = page.texts.filter(({ groups }) => groups.includes("mark-labels"));
    expect(arms).toHaveLength(2 * labels.length);
    labels.forEach(({ text }, i) => {
      const [flat, upright] = [arms[2 * i] as number[], arms[2 * i + 1] as number[]];
      expect(flat[1]).toBeCloseTo(flat[3] as number, 3);
      expect(upright[0]).toBeCloseTo(upright[2] as number, 3);
      found.set(text, { at: [upright[0] as number, flat[1] as number], page });
    });
  }
  return found;
}

const utm = ({ lonLat }: { readonly lonLat: Xy }): Xy =>
  proj4("+proj=utm +zone=8 +datum=WGS84 +units=m +no_defs", [lonLat[0], lonLat[1]]) as unknown as Xy;
const metres = (a: Xy, b: Xy): number =>
  geographiclib.Geodesic.WGS84.Inverse(a[1], a[0], b[1], b[0]).s12 as number;
const apart = (a: number, b: number): number => Math.abs(((a - b + 540) % 360) - 180);

describe("a printed worksheet", () => {
  it.each([
    [1, 25_000],
    [2, 25_000],
    [3, 10_000],
    [4, 50_000],
  ])(
    "has bearings within 0.05° and lengths within 0.1 mm, seed %d at 1:%d",
    async (seed, scale) => {
      const sheet = await made(["bearing", "distance", "aimOff"], 8, seed, scale);
      const marks = crosses((await printed(sheet)).pages);
      let seen = 0;
      for (const question of sheet.questions) {
        const [a, b] = question.marks;
        const [on, to] = [a && marks.get(a.label), b && marks.get(b.label)];
        // What does not fit the paper is left out, and said.
        if (!a || !b || !on || !to) continue;
        seen++;
        expect(on.page).toBe(to.page);
        const [dx, dy] = [to.at[0] - on.at[0], to.at[1] - on.at[1]];
        const [[e0, n0], [e1, n1]] = [utm(a), utm(b)];
        const grid = ((Math.atan2(e1 - e0, n1 - n0) * 180) / Math.PI + 360) % 360;
        const measured = ((Math.atan2(dx, -dy) * 180) / Math.PI + 360) % 360;
        expect(apart(measured, grid), question.ask).toBeLessThan(0.05);
        const wantedMm = (metres(a.lonLat, b.lonLat) * 1000) / scale;
        expect(Math.abs(Math.hypot(dx, dy) - wantedMm), question.ask).toBeLessThan(0.1);
        if (question.kind === "bearing")
          expect(apart(measured, question.answer.value ?? NaN)).toBeLessThan(0.05);
        if (question.kind === "distance")
          expect(Math.abs((Math.hypot(dx, dy) * scale) / 1000 - (question.answer.value ?? NaN))).toBeLessThan(
            scale / 10_000,
          );
      }
      expect(seen).toBeGreaterThanOrEqual(5);
    },
    60_000,
  );

  it("has the grid lines by which a reference is read, and a place in the square that is answered", async () => {
    const sheet = await made(["reference"], 6, 5);
    const { pages } = await printed(sheet);
    const marks = crosses(pages);
    for (const { marks: asked, answer } of sheet.questions) {
      const { at, page } = marks.get(asked[0]?.label ?? "") as { at: Xy; page: PdfPage };
      // Of its own piece: others on the page have grids of their own.
      const lines = inGroup(page, "grid")
        .filter(({ clip }) => clip && at[1] > clip.y && at[1] < clip.y + clip.height)
        .flatMap(({ parts }) => parts.map((part) => [...part]));
      const near = (axis: 0 | 1): number =>
        Math.max(
          ...lines
            .filter((line) => Math.abs((line[axis] as number) - (line[axis + 2] as number)) < 1e-3)
            // The nearest line to the west, and to the south: 40 mm are a kilometre at 1:25 000.
            .map((line) => (axis === 0 ? (line[0] as number) - at[0] : at[1] - (line[1] as number)))
            .filter((off) => off <= 0 && off > -40.1),
        );
      const tenth = (off: number): number => Math.floor(-off / 4);
      expect([tenth(near(0)), tenth(near(1))]).toEqual([Number(answer.text[2]), Number(answer.text[6])]);
    }
  }, 60_000);

  it("has empty axes as long as the line on the map, and draws the ground in the key only", async () => {
    const sheet = await made(["profile"], 2, 3);
    const learner = (await printed(sheet)).pages;
    const key = (await printed(sheet, { parts: ["key"] })).pages;
    const lengths = learner.flatMap((page) =>
      pieces(page, "sketch").map((line) => Math.abs((line[2] as number) - (line[0] as number))),
    );
    for (const { marks, answer } of sheet.questions) {
      const [a, b] = marks as unknown as readonly [{ lonLat: Xy }, { lonLat: Xy }];
      const wanted = metres(a.lonLat, b.lonLat) / 25;
      expect(lengths.some((length) => Math.abs(length - wanted) < 0.1)).toBe(true);
      const drawn = key.flatMap((page) => pieces(page, "ground")).filter(({ length }) => length === 18);
      const widths = drawn.map((line) => (line.at(-2) as number) - (line[0] as number));
      expect(widths.some((width) => Math.abs(width - wanted) < 0.1)).toBe(true);
      const heights = answer.sketch?.elevationM ?? [];
      const [low, high] = [Math.min(...heights), Math.max(...heights)];
      const tall = drawn.map((line) => {
        const ys = line.filter((_, i) => i % 2 === 1);
        return Math.max(...ys) - Math.min(...ys);
      });
      // Ten metres a level of at most 4 mm.
      expect(tall.some((mm) => mm > 0 && mm <= ((high - low) / 10) * 4 + 0.01)).toBe(true);
    }
    expect(learner.flatMap((page) => inGroup(page, "ground"))).toEqual([]);
  }, 60_000);

  it("tells the learner no answer, the key every answer and its working, and both whose map it is", async () => {
    const sheet = await made(["bearing", "norths", "back", "climb", "landform", "aimOff"], 12, 6);
    const { pages: learner } = await printed(sheet);
    const { pages: key } = await printed(sheet, { parts: ["key"] });
    const text = (all: readonly PdfPage[]): string => all.flatMap(pdfLines).join(" ").replace(/\s+/g, " ");
    const [asked, solved] = [text(learner), text(key)];
    const flat = (words: string): string => words.replace(/\s+/g, " ");
    for (const { ask, answer, working } of sheet.questions) {
      expect(asked).toContain(flat(ask));
      expect(asked).toContain(flat(answer.accepted));
      expect(solved).toContain(flat(answer.text));
      for (const step of working) expect(solved).toContain(flat(step));
      for (const step of working) expect(asked).not.toContain(flat(step));
    }
    for (const { texts } of [...learner, ...key])
      expect(texts.map(({ text: line }) => line).join(" ")).toMatch(/Invented map: this is not a real place/);
    expect(asked).toContain("This bar is 100 mm");
    // What is found on the map alone is shown with its map in the key; what is found by figures is not.
    const labels = key.flatMap(({ texts }) =>
      texts.filter(({ groups }) => groups.includes("mark-labels")).map(({ text: label }) => label),
    );
    for (const { kind, marks } of sheet.questions)
      for (const { label } of marks)
        expect(labels.includes(label), label).toBe(["climb", "landform", "aimOff"].includes(kind));
  }, 60_000);

  it("prints on every paper, large and in black; what does not fit is left out and said", async () => {
    const sheet = await made(["bearing", "reference", "profile", "handrail", "climb"], 8, 2);
    for (const paper of ["a5", "letter", "a3"] as const) {
      const { set, pages } = await printed(sheet, {
        parts: ["learner", "key"],
        paper: paperSize(paper),
        large: true,
        blackAndWhite: true,
      });
      const labels = pages.flatMap(({ texts }) =>
        texts.filter(({ groups }) => groups.includes("mark-labels")),
      );
      const leftOut = set.notes.filter((note) => /^Question \d+ is left out/.test(note)).length;
      const shown = sheet.questions.filter(({ marks }) =>
        labels.some(({ text }) => text === marks[0]?.label),
      ).length;
      expect(shown + leftOut, paper).toBe(sheet.questions.filter(({ marks }) => marks.length > 0).length);
      for (const { paths, texts, widthMm, heightMm } of pages) {
        const inks = [...paths.map(({ fill }) => fill), ...texts.map(({ fill }) => fill)];
        for (const ink of inks) if (ink) expect(new Set(ink.slice(1).match(/../g)).size).toBe(1);
        for (const { x, y, widthMm: wide, text } of texts)
          expect(x >= 4 && y >= 4 && x + wide <= widthMm - 4 && y <= heightMm - 4, text).toBe(true);
      }
    }
  }, 60_000);
});
