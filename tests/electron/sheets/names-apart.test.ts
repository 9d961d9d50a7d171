/**
 * What stands on the demo map's sheets, read from their PDF: text as wide as its embedded fonts make it, boxes compared by the
 * separating axis theorem with code of this test's own, heights read from the terrain tiles by the reference readers.
 */
import { fileURLToPath } from "node:url";
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { sheetFrame } from "../../../core/sheet/frame/sheet-frame.ts";
import { fieldSheets } from "../../../core/sheet/field-sheet.ts";
import type { PrintWish } from "../../../core/sheet/sheet-job.ts";
import { sheetPlans } from "../../../core/sheet/sheet-plans.ts";
import type { Ground } from "../../../core/terrain/ground.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { parseWalk } from "../../../core/walk/walk-file.ts";
import { openGroundAt } from "../../../electron/cli/map-files.ts";
import { loadSheetFonts, type SheetFonts } from "../../../electron/services/sheets/fonts.ts";
import { pagesPdf } from "../../../electron/services/sheets/pages-pdf.ts";
import { RawMap } from "../../core/course/raw-map.ts";
import { jobOf } from "../../core/sheet/job.ts";
import { type PdfBox, type PdfPage, type PdfText, readPdfPages } from "../../support/pdf-reader.ts";

const at = (path: string): string => fileURLToPath(new URL(`../../../sample-maps/${path}`, import.meta.url));

type Corner = readonly [x: number, y: number];
type Box = readonly Corner[];

/** From the baseline to the top of the capitals, as a share of the size: less than any of the fonts has. */
const CAPS = 0.62;

/** The letters of a text as a turned box that no letter of it reaches out of: nothing but what is inked. */
function boxOf({ x, y, widthMm, sizeMm, turnDeg }: PdfText): Box {
  const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  return [
    [0, 0],
    [widthMm, 0],
    [widthMm, -CAPS * sizeMm],
    [0, -CAPS * sizeMm],
  ].map(([along = 0, down = 0]) => [x + along * cos - down * sin, y + along * sin + down * cos]);
}

const rectBox = ({ x, y, width, height }: PdfBox): Box => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
];

/** How deep two boxes lie in one another, millimetres; 0 or less when a line parts them. */
function depth(a: Box, b: Box): number {
  let least = Infinity;
  for (const box of [a, b])
    for (const [i, [x, y]] of box.entries()) {
      const [nextX, nextY] = box[(i + 1) % box.length] as Corner;
      const long = Math.hypot(nextX - x, nextY - y);
      const [ux, uy] = [(nextY - y) / long, (x - nextX) / long];
      const [pa, pb] = [a, b].map((one) => one.map(([px, py]) => px * ux + py * uy)) as [number[], number[]];
      least = Math.min(least, Math.max(...pa) - Math.min(...pb), Math.max(...pb) - Math.min(...pa));
    }
  return least;
}

const inGroup = (name: string) => (item: { readonly groups: readonly string[] }) =>
  item.groups.includes(name);

/** Cloths of the flags and plates of the leg numbers: filled boxes. */
function plates(page: PdfPage): Box[] {
  return page.paths
    .filter((path) => (inGroup("flags")(path) || inGroup("leg-numbers")(path)) && path.fill !== null)
    .flatMap(({ parts }) => parts)
    .map((part) => {
      const [xs, ys] = [part.filter((_, i) => i % 2 === 0), part.filter((_, i) => i % 2 === 1)];
      const [x, y] = [Math.min(...xs), Math.min(...ys)];
      return rectBox({ x, y, width: Math.max(...xs) - x, height: Math.max(...ys) - y });
    });
}

const walk = parseWalk(
  readFileSync(at("uldermoor-practice.walk.geojson"), "utf8"),
  "walk",
  "2026-11-26",
).walk;
let ground: Ground;
let fonts: SheetFonts;
let raw: RawMap;
beforeAll(async () => {
  [ground, fonts, raw] = await Promise.all([
    openGroundAt(at("uldermoor.pmtiles")),
    loadSheetFonts(),
    RawMap.open(at("uldermoor")),
  ]);
});

const CASES = [
  { scale: 10_000, paper: "a3" },
  { scale: 25_000, paper: "a4" },
  { scale: 50_000, paper: "a4" },
] as const;

describe.each(CASES)("a sheet at 1:$scale", ({ scale, paper }) => {
  let page: PdfPage;
  let toGround: (x: number, y: number) => LonLat;
  beforeAll(async () => {
    const wish: Partial<PrintWish> = {
      parts: ["sheets"],
      scale,
      paper,
      index: false,
      handrails: true,
      backstops: true,
      hazards: true,
      magneticLinesMm: 40,
    };
    const job = { ...jobOf([], wish), walk };
    const set = await fieldSheets(job, ground, fonts.ruler);
    page = readPdfPages(await pagesPdf(set, fonts))[0] as PdfPage;
    const points = walk.points.map(({ lonLat }) => lonLat);
    const { layout } = sheetPlans(points, job.wish, ground.map.info.bounds, null);
    const frame = sheetFrame((layout.sheets[0] as (typeof layout.sheets)[number]).frame);
    toGround = (x, y) => frame.toLonLat([x, y]);
  }, 60_000);

  it("has no name on another, nor on a point's label, a leg's number or a word of the walk", () => {
    const names = page.texts.filter(inGroup("names"));
    const words = page.texts.filter(inGroup("walk"));
    expect(names.length).toBeGreaterThan(20);
    expect(words.length).toBeGreaterThan(walk.points.length - 2);
    const flags = plates(page);
    expect(flags.length).toBeGreaterThan(10);
    const all = [...names, ...words];
    const met: string[] = [];
    for (const [i, text] of all.entries())
      for (const other of all.slice(i + 1))
        if (depth(boxOf(text), boxOf(other)) > 0.05) met.push(`${text.text} / ${other.text}`);
    for (const name of names)
      for (const plate of flags) if (depth(boxOf(name), plate) > 0.05) met.push(`${name.text} / a plate`);
    expect(met).toEqual([]);
  });

  it("has nothing cut at its neat line: each text is wholly inside or wholly outside", () => {
    const neat = page.texts.find(inGroup("names"))?.clip as PdfBox;
    expect(neat.width * neat.height).toBeGreaterThan((page.widthMm * page.heightMm) / 3);
    const [left, top, right, bottom] = [neat.x, neat.y, neat.x + neat.width, neat.y + neat.height];
    const cut = page.texts.filter((text) => {
      const box = boxOf(text);
      const inside = box.every(([x, y]) => x >= left && x <= right && y >= top && y <= bottom);
      return !inside && (text.clip !== null || depth(box, rectBox(neat)) > 0);
    });
    expect(cut.map(({ text }) => text)).toEqual([]);
  });

  it("has contour figures with their heads uphill", () => {
    const figures = page.texts.filter(inGroup("contour-figures"));
    expect(figures.length).toBeGreaterThan(3);
    const wrong = figures.filter(({ x, y, widthMm, sizeMm, turnDeg, text }) => {
      const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
      const metres = (along: number, up: number): number =>
        raw.heightAt(toGround(x + along * cos + up * sin, y + along * sin - up * cos));
      const middle = [widthMm / 2, (CAPS * sizeMm) / 2] as const;
      // The figure says the height of its place, and the ground above its head is higher than that below its feet.
      const near = Math.abs(metres(...middle) - Number(text)) < 10;
      const rise = metres(middle[0], middle[1] + 2) - metres(middle[0], middle[1] - 2);
      return !near || !(rise > 0);
    });
    expect(wrong.map(({ text, x, y }) => `${text} at ${x.toFixed(1)}, ${y.toFixed(1)}`)).toEqual([]);
  });
});
