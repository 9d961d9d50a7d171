/** Pages from the command line: what each option puts on them, read from the files, and what is wrong with what is asked. */
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { pdfLines, type PdfPage, readPdfPages } from "../support/pdf-reader.ts";
import { checkLineMm, gridLinesAt, legBearings } from "../support/sheet-measures.ts";
import { CommandLine } from "./support/command.ts";

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const MAP = at("../../sample-maps/uldermoor.pmtiles");
const WALK = at("../../sample-maps/uldermoor-practice.walk.geojson");

const commandLine = new CommandLine();
const { folder } = commandLine;
afterAll(() => commandLine.remove());

let count = 0;
function pagesOf(...args: string[]): {
  readonly pages: PdfPage[];
  readonly text: string;
  readonly said: string;
} {
  const out = `out-${++count}.pdf`;
  const { code, stderr, stdout } = commandLine.run([...args, "--out", out]);
  expect(code, stderr).toBe(0);
  expect(stdout).toBe("");
  const pages = readPdfPages(readFileSync(join(folder, out)));
  return { pages, text: pages.flatMap(pdfLines).join("\n"), said: stderr };
}
const sheet = (...args: string[]): ReturnType<typeof pagesOf> =>
  pagesOf("sheet", WALK, "--map", MAP, ...args);

interface TableJson {
  readonly legs: readonly {
    readonly n: number;
    readonly from: string;
    readonly to: string;
    readonly bearingGridDeg: number;
  }[];
}
let table: TableJson;
beforeAll(() => {
  table = JSON.parse(commandLine.says(["table", WALK, "--map", MAP, "--format", "json"])) as TableJson;
});

/** A4 by ISO 216, Letter by ANSI Y14.1: whole millimetres. */
const size = ({ widthMm, heightMm }: PdfPage): string => `${Math.round(widthMm)} x ${Math.round(heightMm)}`;
const gaps = (places: readonly number[]): number[] =>
  places.slice(1).map((at, i) => at - (places[i] as number));

describe("the sheet, measured in its PDF", () => {
  it.each([
    // Millimetres of a kilometre: 1 000 000 / scale.
    ["25000", "a3", 25_000],
    ["1 inch = 2000 feet", "tabloid", 24_000],
    ["1:50 000", "a4", 50_000],
  ])("at %s on %s has its check line 100 mm long and its grid at true scale", (text, paper, scale) => {
    const { pages } = sheet("--scale", text, "--paper", paper);
    const [page] = pages as [PdfPage];
    expect(Math.abs(checkLineMm(page) - 100)).toBeLessThan(0.05);
    const km = 1_000_000 / scale;
    for (const way of ["upright", "level"] as const) {
      const between = gaps(gridLinesAt(page, way));
      expect(between.length, way).toBeGreaterThan(1);
      for (const mm of between) expect(Math.abs(mm - km), way).toBeLessThan(0.04);
    }
  });

  it("draws each leg on the grid bearing of the table", () => {
    const { pages } = sheet("--fit");
    const drawn = pages.flatMap(legBearings);
    for (const { bearingGridDeg, n } of table.legs) {
      const off = Math.min(...drawn.map((deg) => Math.abs(((deg - bearingGridDeg + 540) % 360) - 180)));
      expect(off, `leg ${n}`).toBeLessThan(0.05);
    }
    expect(table.legs.length).toBeGreaterThan(3);
  });

  it("embeds every font it uses", () => {
    const { pages } = sheet("--table");
    const fonts = pages.flatMap((page) => page.fonts);
    expect(fonts.length).toBeGreaterThan(1);
    expect(fonts.filter(({ embedded }) => !embedded)).toEqual([]);
  });
});

describe("what each option puts on paper", () => {
  it("--party fills the route card, and those named are counted", () => {
    const { text } = sheet(
      "--no-sheets",
      "--route-card",
      "--party",
      "names=Ida Brandt, Tam Okoro; Wen",
      "kit=rope, shelter=big",
      "vehicle=green van at the bridge",
      "phone=555 0101",
      "contact=Noor, 555 0102",
    );
    const flat = text.replace(/\s+/g, " ");
    for (const word of ["Ida Brandt, Tam Okoro, Wen", "rope, shelter=big", "green van at the bridge"])
      expect(flat).toContain(word);
    expect(flat).toMatch(/How many 3\b/);
    expect(flat).toMatch(/Call first Noor, 555 0102/);
  });

  it("--ask and --tolerance say what a handout leaves open, and what its answers take", () => {
    const args = ["--no-sheets", "--ask", "distanceM", "--tolerance", "distance=10%", "distance=50m"];
    const asked = sheet(...args, "--handout").text;
    expect(asked).not.toContain("paces\n");
    expect(asked.replace(/\s+/g, " ")).toMatch(/10 % of the distance or 50 m/);
    const answers = sheet(...args, "--answers").text.replace(/\s+/g, " ");
    // The first leg is 889 m: a tenth of it to either side.
    expect(answers).toContain("889 m");
    expect(answers).toMatch(/800 m to 978 m/);
  });

  it("papers, upright and on their side", () => {
    expect(size(sheet("--paper", "letter").pages[0] as PdfPage)).toBe("216 x 279");
    expect(size(sheet("--landscape").pages[0] as PdfPage)).toBe("297 x 210");
  });

  it("--index, --strips, --at", () => {
    const strips = sheet("--strips", "--index");
    expect(strips.text).toContain(`Index of ${table.legs.length} sheets`);
    expect(strips.pages).toHaveLength(table.legs.length + 1);
    const placed = sheet("--at", "46.3338 -133.1946", "--scale", "5000");
    expect(placed.pages).toHaveLength(1);
    expect(placed.said).toMatch(/lies on no sheet/);
  });

  it("--magnetic-lines, --no-grid-lines, --roamer", () => {
    const over = ({ pages }: { readonly pages: readonly PdfPage[] }): Set<string> =>
      new Set(
        pages.flatMap(({ paths }) =>
          paths.filter(({ groups }) => groups[0] === "over").flatMap((path) => path.groups),
        ),
      );
    const usual = over(sheet());
    expect([usual.has("grid"), usual.has("magnetic-north")]).toEqual([true, false]);
    const other = sheet("--magnetic-lines", "30", "--no-grid-lines", "--roamer");
    expect([over(other).has("grid"), over(other).has("magnetic-north")]).toEqual([false, true]);
    expect(other.text).toMatch(/[Rr]oamer/);
  });

  it("--grid draws in another grid, and aids stand on the map", () => {
    const plain = sheet();
    const { text, pages } = sheet("--grid", "nad27", "--handrails", "--backstops", "--hazards", "--cone");
    expect(text).toMatch(/NAD ?27/i);
    const drawn = (of: readonly PdfPage[]): number =>
      of.flatMap(({ paths }) => paths.filter(({ groups }) => groups[0] === "walk")).length;
    expect(drawn(pages)).toBeGreaterThan(drawn(plain.pages));
  });

  it("--black-and-white leaves no colour", () => {
    const inks = sheet("--black-and-white", "--table").pages.flatMap(({ paths, texts }) => [
      ...paths.flatMap(({ fill, stroke }) => [fill, stroke?.ink]),
      ...texts.map(({ fill }) => fill),
    ]);
    const coloured = inks.filter((ink) => ink && !/^#(..)\1\1$/.test(ink));
    expect(coloured).toEqual([]);
    expect(inks.length).toBeGreaterThan(100);
  });

  it("the leg table has every leg and the columns asked for, in their order, with boxes to write in", () => {
    const { pages } = sheet(
      "--no-sheets",
      "--table",
      "--columns",
      "distanceM,bearing",
      "--blank",
      "actualTime",
    );
    const text = pages.flatMap(pdfLines).join("\n");
    for (const { from, to } of table.legs) {
      expect(text).toContain(from.split(" ")[0]);
      expect(text).toContain(to.split(" ")[0]);
    }
    const headings = (pages[0] as PdfPage).texts;
    const x = (word: RegExp): number | undefined => headings.find((one) => word.test(one.text))?.x;
    const order = [x(/^Distance$/), x(/^Magnetic/), x(/^Actual/)] as number[];
    expect(order.every((at) => at !== undefined)).toBe(true);
    expect(order).toEqual(order.toSorted((a, b) => a - b));
  });

  it("--large prints no letter under 14 points on the table", () => {
    const { pages } = sheet("--no-sheets", "--table", "--large");
    const least = Math.min(...pages.flatMap(({ texts }) => texts.map(({ sizeMm }) => sizeMm)));
    // A point is 25.4 / 72 mm.
    expect(least).toBeGreaterThan((14 * 25.4) / 72 - 0.01);
  });

  it("--route-card, --pocket, --handout and --answers", () => {
    expect(sheet("--no-sheets", "--route-card").text).toMatch(/overdue/i);
    expect(sheet("--no-sheets", "--pocket").pages.length).toBeGreaterThan(0);
    const questions = sheet("--no-sheets", "--handout").text;
    const answers = sheet("--no-sheets", "--answers").text;
    expect(answers.length).toBeGreaterThan(questions.length);
    expect(answers).toMatch(/: answers/);
  });

  it("as SVG a numbered file for each page, a single page under the name itself", () => {
    commandLine.says(["sheet", WALK, "--map", MAP, "--fit", "--out", "one.svg"]);
    expect(readFileSync(join(folder, "one.svg"), "utf8")).toMatch(
      /<svg[^>]* width="210mm"[^>]* height="297mm"/,
    );
    commandLine.says(["sheet", WALK, "--map", MAP, "--strips", "--out", "many.svg"]);
    const names = readdirSync(folder).filter((name) => name.startsWith("many"));
    expect(names).toHaveLength(table.legs.length);
  });

  it("table --format pdf is drawn without a browser", () => {
    const out = pagesOf("table", WALK, "--map", MAP, "--landscape", "--large");
    expect(size(out.pages[0] as PdfPage)).toBe("297 x 210");
    for (const { from } of table.legs) expect(out.text).toContain(from.split(" ")[0]);
  });
});

describe("what cannot be printed is one clear sentence, and nothing is written", () => {
  const write = (name: string, coordinates: readonly (readonly number[])[]): string => {
    mkdirSync(folder, { recursive: true });
    writeFileSync(
      join(folder, name),
      JSON.stringify({
        type: "FeatureCollection",
        features: coordinates.map((at) => ({
          type: "Feature",
          properties: {},
          geometry: { type: "Point", coordinates: at },
        })),
      }),
    );
    return name;
  };

  it.each([
    ["a scale that is none", ["--scale", "large"], /no map scale/],
    ["a scale too large", ["--at", "46.334 N 133.195 W", "--scale", "1:50"], /1:50 cannot be printed/],
    ["an unknown column", ["--table", "--columns", "bearing,mood"], /no column called “mood”/],
    ["an unknown box", ["--table", "--blank", "mood"], /no box to write in called “mood”/],
    ["an unknown grid", ["--grid", "atlantis"], /no grid called “atlantis”/],
    ["nothing to print", ["--no-sheets"], /nothing to print/],
    ["fit and strips", ["--fit", "--strips"], /--fit and --strips do not go together/],
    ["fit and a scale", ["--fit", "--scale", "25000"], /--fit and --scale/],
    ["what is up without strips", ["--up", "leg"], /--up/],
    ["lines of magnetic north every 1 mm", ["--magnetic-lines", "1"], /5 to 500 mm/],
    ["of a party what no card tells", ["--party", "age=40"], /“age=40” is not understood.*names=/],
    ["a figure no handout asks for", ["--handout", "--ask", "mood"], /figure to work out called “mood”/],
    ["a tolerance that is none", ["--tolerance", "bearing=much"], /“much” does not say how far off/],
    ["a tolerance of more than all", ["--tolerance", "paces=101%"], /“101%” does not say how far off/],
    ["more sheets than anyone carries", ["--scale", "1:150"], /200 sheets/],
  ])("%s", (_what, args, message) => {
    expect(commandLine.fails(1, ["sheet", WALK, "--map", MAP, ...args, "--out", "no.pdf"])).toMatch(message);
    expect(existsSync(join(folder, "no.pdf"))).toBe(false);
  });

  it("a name that is neither PDF nor SVG, a folder that is not there, a paper there is not", () => {
    expect(commandLine.fails(1, ["sheet", WALK, "--map", MAP, "--out", "no.png"])).toMatch(/\.pdf or \.svg/);
    expect(commandLine.fails(1, ["sheet", WALK, "--map", MAP, "--out", "gone/no.pdf"])).toMatch(
      /folder.*gone/,
    );
    expect(commandLine.fails(2, ["sheet", WALK, "--paper", "a9", "--out", "no.pdf"])).toMatch(/a9/);
    expect(commandLine.fails(1, ["table", WALK, "--map", MAP, "--large"])).toMatch(/no pages.*--large/);
  });

  it("a walk off the map is drawn, and said to be off it", () => {
    const walk = write("away.geojson", [
      [20.44, -33.98],
      [20.452, -33.975],
    ]);
    const { pages, said } = pagesOf("sheet", walk, "--map", MAP);
    expect(pages).toHaveLength(1);
    expect(said).toMatch(/off the map/);
  });

  it("labels of any script, emoji and 500 letters keep to the paper, and what cannot be set is said", () => {
    const labels = [
      "\u05d2\u05d1\u05e2\u05d4",
      "\u{1f3d4}\ufe0f\u{1f97e}",
      "long ".repeat(100),
      "\u03a3\u03ba\u03ac\u03bb\u03b1",
    ];
    const features = labels.map((name, i) => ({
      type: "Feature",
      properties: { name },
      geometry: { type: "Point", coordinates: [-133.19 + i * 0.005, 46.33 + (i % 2) * 0.004] },
    }));
    writeFileSync(join(folder, "labels.geojson"), JSON.stringify({ type: "FeatureCollection", features }));
    const { pages, text, said } = pagesOf("sheet", "labels.geojson", "--map", MAP, "--table", "--pocket");
    expect(said).toMatch(/do not have were left out/);
    expect(said).toMatch(/No face here has these letters/);
    expect(text).toContain("\u03a3\u03ba\u03ac\u03bb\u03b1");
    for (const { widthMm, heightMm, texts } of pages)
      for (const { x, y, widthMm: long, turnDeg } of texts) {
        const turn = (turnDeg * Math.PI) / 180;
        for (const [px, py] of [
          [x, y],
          [x + long * Math.cos(turn), y + long * Math.sin(turn)],
        ] as const)
          expect(px >= 0 && px <= widthMm && py >= 0 && py <= heightMm).toBe(true);
      }
  });

  it("an empty walk shows the map only, and has no table", () => {
    const empty = join(folder, "empty.walk.geojson");
    const walk = JSON.parse(readFileSync(WALK, "utf8")) as Record<string, unknown>;
    writeFileSync(empty, JSON.stringify({ ...walk, features: [] }));
    expect(pagesOf("sheet", "empty.walk.geojson", "--map", MAP).said).toMatch(/No walk yet/);
    expect(
      commandLine.fails(1, [
        "sheet",
        "empty.walk.geojson",
        "--map",
        MAP,
        "--no-sheets",
        "--table",
        "--out",
        "no.pdf",
      ]),
    ).toMatch(/no legs yet/);
  });
});
