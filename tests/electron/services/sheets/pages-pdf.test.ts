/**
 * Pages written as PDF, read back. The reader itself (tests/support/pdf-reader.ts) was held to `mutool trace` (MuPDF) on files of ours
 * and of Chromium's: paths, line widths, dashes, clips and text positions agreed; where mutool and Poppler are installed that is
 * repeated here. ISO 32000-1 names the keys.
 */
import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { PAPERS } from "../../../../core/sheet/page/paper-size.ts";
import {
  group,
  lineShape,
  type PageItem,
  type PageSet,
  rectShape,
} from "../../../../core/sheet/page/page.ts";
import { loadSheetFonts, type SheetFonts } from "../../../../electron/services/sheets/fonts.ts";
import { pagesPdf } from "../../../../electron/services/sheets/pages-pdf.ts";
import { pdfLines, type PdfPage, readPdfFacts, readPdfPages } from "../../../support/pdf-reader.ts";

const here = (tool: string, flag = "-v"): boolean => spawnSync(tool, [flag]).error === undefined;
const TEXTS = [
  "Wooden Tarn → 90° ½",
  "Łódź Ελλάδα Ђурђевдан",
  "Việt Nam",
  "हिन्दी क्षेत्र",
  "(a\\b) <i>&amp;</i>",
];

const hole = [
  ...rectShape({ x: 120, y: 120, width: 60, height: 40 }).parts,
  ...rectShape({ x: 140, y: 130, width: 20, height: 20 }).parts,
];
const curve = Float64Array.from({ length: 4000 }, (_, i) =>
  i % 2 === 0 ? 20 + i / 40 : 200 + 10 * Math.sin(i / 100),
);
const ITEMS: PageItem[] = [
  ...TEXTS.map((text, i): PageItem => ({
    kind: "text",
    text,
    at: [20, 20 + i * 8],
    face: "name",
    sizeMm: 4,
    ink: "#102030",
  })),
  {
    kind: "shape",
    shape: lineShape([20, 100], [120, 100]),
    stroke: { ink: "#aa5500", widthMm: 0.3, dashMm: [3, 1] },
  },
  group(
    "woods",
    [{ kind: "shape", shape: { parts: hole, closed: true }, fill: "#228844", fillOpacity: 0.4 }],
    { x: 125, y: 110, width: 50, height: 45 },
  ),
  { kind: "shape", shape: { parts: [curve], closed: false }, stroke: { ink: "#000000", widthMm: 0.1 } },
  {
    kind: "text",
    text: "Turned",
    at: [150, 60],
    face: "textBold",
    sizeMm: 6,
    ink: "#0055aa",
    turnDeg: -30,
    anchor: "middle",
    haloMm: 0.5,
  },
];
const SET: PageSet = {
  title: "Sheets for “Owl Beck”",
  notes: [],
  pages: [{ widthMm: 210, heightMm: 297, title: "Sheet 1", items: ITEMS }],
};

let fonts: SheetFonts;
let bytes: Uint8Array;
let page: PdfPage;
let folder: string;
let file: string;
beforeAll(async () => {
  fonts = await loadSheetFonts();
  bytes = await pagesPdf(SET, fonts);
  page = readPdfPages(bytes)[0] as PdfPage;
  folder = mkdtempSync(join(tmpdir(), "pages-"));
  file = join(folder, "set.pdf");
  writeFileSync(file, bytes);
});
afterAll(() => rmSync(folder, { recursive: true }));

describe("what a file says of itself", () => {
  it("has its title, our name and language, and asks to be printed at its true size", () => {
    expect(readPdfFacts(bytes)).toMatchObject({
      Title: "Sheets for “Owl Beck”",
      Producer: "Legwright",
      Lang: "en-GB",
      PrintScaling: "None",
    });
  });

  it("is the same, byte by byte, for the same pages", async () => {
    expect(Buffer.compare(await pagesPdf(SET, fonts), bytes)).toBe(0);
    const dated = await pagesPdf(SET, fonts, { date: new Date("2026-05-04T03:02:01Z") });
    expect(readPdfFacts(dated)["CreationDate"]).toBe("D:20260504030201Z");
  });

  it.each(Object.entries(PAPERS))(
    "has pages of %s to a thousandth of a point",
    async (_, [widthMm, heightMm]) => {
      const set = { ...SET, pages: [{ widthMm, heightMm, title: "", items: [] }] };
      const { mediaBox } = readPdfPages(await pagesPdf(set, fonts))[0] as PdfPage;
      // A point is 1/72 of an inch of 25.4 mm (ISO 32000-1, 8.3.2.3).
      expect(mediaBox[2]).toBeCloseTo((widthMm * 72) / 25.4, 3);
      expect(mediaBox[3]).toBeCloseTo((heightMm * 72) / 25.4, 3);
    },
  );
});

describe("what is drawn", () => {
  it("puts straight lines within a thousandth of a millimetre, with their width and dashes", () => {
    const line = page.paths.find(({ stroke }) => stroke?.ink === "#aa5500");
    expect([...(line?.parts[0] ?? [])].map((mm) => Math.round(mm * 1000))).toEqual([
      20_000, 100_000, 120_000, 100_000,
    ]);
    expect(line?.stroke?.widthMm).toBeCloseTo(0.3, 4);
    expect(line?.stroke?.dashMm.map((mm) => Number(mm.toFixed(4)))).toEqual([3, 1]);
  });

  it("puts lines of many points within 0.008 mm, the corner of a hundredth", () => {
    const drawn = page.paths.find(({ parts }) => (parts[0]?.length ?? 0) > 100)?.parts[0] as Float64Array;
    expect(drawn.length).toBe(curve.length);
    const worst = Math.max(...drawn.map((mm, i) => Math.abs(mm - (curve[i] as number))));
    expect(worst).toBeLessThan(0.0051);
    expect(worst).toBeGreaterThan(0);
  });

  it("leaves holes open, cuts groups at their box and keeps opacity", () => {
    const woods = page.paths.find(({ groups }) => groups.includes("woods"));
    expect(woods).toMatchObject({
      fill: "#228844",
      evenOdd: true,
      fillOpacity: 0.4,
      closed: [true, true],
      stroke: null,
    });
    expect(woods?.clip?.x).toBeCloseTo(125, 3);
    expect(woods?.clip?.y).toBeCloseTo(110, 3);
    expect(woods?.clip?.width).toBeCloseTo(50, 3);
    expect(page.paths.at(-1)?.clip).toBeNull();
  });

  it("tells text in the order of the page and in the order it is written, whatever its script", () => {
    expect(pdfLines(page)).toEqual([...TEXTS, "Turned"]);
    expect(page.fonts.length).toBeGreaterThan(3);
    expect(page.fonts.every(({ embedded, name }) => embedded && /^[A-Z]{6}\+/.test(name))).toBe(true);
  });

  it("sets text where it was measured, its middle at the anchor, its halo below it", () => {
    const turned = page.texts.at(-1);
    const width = fonts.ruler.widthMm("Turned", "textBold", 6);
    expect(turned?.widthMm).toBeCloseTo(width, 2);
    expect(turned?.turnDeg).toBeCloseTo(-30, 3);
    expect(turned?.x).toBeCloseTo(150 - (width / 2) * Math.cos(Math.PI / 6), 2);
    expect(turned?.y).toBeCloseTo(60 + (width / 2) * Math.sin(Math.PI / 6), 2);
    expect(page.halos).toHaveLength(1);
    expect(page.halos[0]).toMatchObject({ text: "Turned", stroke: { ink: "#ffffff" } });
    expect(page.halos[0]?.stroke?.widthMm).toBeCloseTo(1, 4);
  });

  it("lets a letter nobody has be an empty box that is still found as that letter", async () => {
    const items: PageItem[] = [
      { kind: "text", text: "א😀", at: [10, 10], face: "text", sizeMm: 5, ink: "#000000" },
    ];
    const set = { ...SET, pages: [{ widthMm: 50, heightMm: 50, title: "", items }] };
    expect(pdfLines(readPdfPages(await pagesPdf(set, fonts))[0] as PdfPage)).toEqual(["א😀"]);
  });
});

describe("as others read it", () => {
  it.skipIf(!here("mutool"))("MuPDF draws the same paths and letters at the same places", () => {
    const trace = execFileSync("mutool", ["trace", file], { encoding: "utf8" });
    const strokes = [
      ...trace.matchAll(
        /<stroke_path linewidth="([\d.]+)"[^>]*transform="([^"]+)">([\s\S]*?)<\/stroke_path>/g,
      ),
    ];
    const mine = page.paths.filter(({ stroke, fill }) => stroke && !fill);
    expect(strokes).toHaveLength(mine.length);
    for (const [k, [, width, matrix, inner]] of strokes.entries()) {
      const [a, , , d, e, f] = (matrix as string).split(" ").map(Number) as [
        number,
        number,
        number,
        number,
        number,
        number,
      ];
      const mm = 25.4 / 72;
      const points = [...(inner as string).matchAll(/x="([-\d.]+)" y="([-\d.]+)"/g)].flatMap(([, x, y]) => [
        (a * Number(x) + e) * mm,
        (d * Number(y) + f) * mm,
      ]);
      const path = mine[k];
      expect(points).toHaveLength(path?.parts[0]?.length as number);
      const off = points.map((p, i) => Math.abs(p - (path?.parts[0]?.[i] as number)));
      expect(Math.max(...off)).toBeLessThan(0.001);
      expect(Number(width) * a * mm).toBeCloseTo(path?.stroke?.widthMm as number, 4);
    }
    const first =
      /<fill_text[^>]*transform="([^"]+)">\s*<span[^>]*>\s*<g unicode="W"[^>]*x="([\d.]+)" y="([\d.]+)"/.exec(
        trace,
      );
    const unit = Number.parseFloat(first?.[1] ?? "") * (25.4 / 72);
    expect(Number(first?.[2]) * unit).toBeCloseTo(page.texts[0]?.x as number, 3);
    expect(Number(first?.[3]) * unit).toBeCloseTo(page.texts[0]?.y as number, 3);
  });

  it.skipIf(!here("pdftotext"))("Poppler finds every line once and all fonts embedded", () => {
    const text = execFileSync("pdftotext", ["-layout", file, "-"], { encoding: "utf8" }).normalize("NFC");
    for (const line of TEXTS) expect(text.split(line)).toHaveLength(2);
    const table = execFileSync("pdffonts", [file], { encoding: "utf8" }).trim().split("\n").slice(2);
    expect(table.length).toBe(page.fonts.length);
    for (const row of table) expect(row).toMatch(/yes yes yes\s+\d+\s+\d+$/);
  });
});
