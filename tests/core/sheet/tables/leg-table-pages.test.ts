import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { LEG_COLUMNS } from "../../../../core/legs/table/leg-table.ts";
import { CAUTIONS, INVENTED } from "../../../../core/legs/cautions.ts";
import { PAPERS, paperSize } from "../../../../core/sheet/page/paper-size.ts";
import { points } from "../../../../core/sheet/page/page.ts";
import { legTablePages } from "../../../../core/sheet/tables/leg-table-pages.ts";
import { BLANKS } from "../../../../core/sheet/tables/table-columns.ts";
import { sampleTable } from "../../legs/support/sample-table.ts";
import { flat } from "../furniture/items.ts";
import { plainRuler } from "../furniture/plain-ruler.ts";
import { bare, bareOf, expectApart, expectInside, measured } from "./measured.ts";

const A4 = paperSize("a4");
const paperOf = (name: string, landscape: boolean) => paperSize(name, landscape);

describe("leg table pages", () => {
  test("ISO 216: A5, A4 and A3 are 148 × 210, 210 × 297 and 297 × 420 mm; pages are as large as the paper, both ways", async () => {
    const table = await sampleTable();
    // ISO 216:2007, table 1.
    for (const [name, short, long] of [
      ["a5", 148, 210],
      ["a4", 210, 297],
      ["a3", 297, 420],
    ] as const)
      for (const landscape of [false, true]) {
        const { pages } = legTablePages(table, { paper: paperSize(name, landscape) }, plainRuler);
        for (const page of pages)
          expect([page.widthMm, page.heightMm]).toEqual(landscape ? [long, short] : [short, long]);
      }
  });

  test("every figure of every leg is there, in the order of the legs", async () => {
    const table = await sampleTable({ legs: 12 });
    const { pages } = legTablePages(table, { paper: A4 }, plainRuler);
    const all = bareOf(pages.flatMap(({ items }) => items));
    let from = 0;
    for (const leg of table.figures.legs)
      for (const id of ["from", "bearing", "distanceM", "paces", "handrails", "backstop"] as const) {
        const text = bare(LEG_COLUMNS[id].text(leg, table));
        const at = all.indexOf(text, from);
        expect(at, `leg ${leg.n} ${id}: ${text}`).toBeGreaterThanOrEqual(0);
        if (id === "from") from = at;
      }
    for (const caution of CAUTIONS) expect(all).toContain(bare(caution));
  });

  test("the total of the distances is the sum of the legs'", async () => {
    const table = await sampleTable({ legs: 6 });
    const sumM = table.figures.legs.reduce((sum, { distanceM }) => sum + distanceM, 0);
    const { pages } = legTablePages(table, { paper: A4, columns: ["distanceM"] }, plainRuler);
    const words = pages.flatMap(({ items }) => measured(items, plainRuler)).map(({ item }) => item.text);
    expect(words[words.indexOf("Total") + 1]).toBe(`${(sumM / 1000).toFixed(2)}\u00a0km`);
  });

  test("columns stand in the order asked for, figures flush right below their headings", async () => {
    const table = await sampleTable();
    const { pages } = legTablePages(
      table,
      { paper: A4, columns: ["paces", "distanceM", "bearing"] },
      plainRuler,
    );
    const all = measured(pages[0]?.items ?? [], plainRuler);
    const of = (text: string) => all.find(({ item }) => item.text === text);
    const ends = [
      LEG_COLUMNS.paces.text(table.figures.legs[0] as never, table),
      LEG_COLUMNS.distanceM.text(table.figures.legs[0] as never, table),
      LEG_COLUMNS.bearing.text(table.figures.legs[0] as never, table),
    ].map((text) => of(text));
    const right = ends.map((one) => (one ? one.box.x + one.box.width : NaN));
    expect(right).toEqual(right.toSorted((a, b) => a - b));
    const heading = of("Distance");
    expect(heading && heading.box.x + heading.box.width).toBeCloseTo(right[1] as number, 6);
  });

  test("what has no room in the row stands under it and is said; landscape is offered where it has room", async () => {
    const table = await sampleTable();
    const usual = legTablePages(table, { paper: A4, blanks: BLANKS.map(({ id }) => id) }, plainRuler);
    expect(usual.notes[0]).toContain("under each leg’s row");
    const few = legTablePages(table, { paper: A4, columns: ["bearing", "distanceM"] }, plainRuler);
    expect(few.notes).toEqual([]);
    const some = legTablePages(
      table,
      {
        paper: paperSize("a5"),
        large: true,
        columns: ["bearing", "distanceM", "paces", "climbM", "descentM"],
      },
      plainRuler,
    );
    expect(some.notes[0]).toContain("Landscape has room for all of them.");
  });

  test("large type has nothing below 14 pt, usual type nothing below 9 pt; black and white has black only", async () => {
    const table = await sampleTable();
    for (const [large, least] of [
      [true, 14],
      [false, 9],
    ] as const) {
      const { pages } = legTablePages(table, { paper: A4, large, blackAndWhite: true }, plainRuler);
      for (const { item } of pages.flatMap(({ items }) => measured(items, plainRuler))) {
        expect(item.sizeMm).toBeGreaterThanOrEqual(points(least) - 1e-9);
        expect(item.ink).toBe("#000000");
      }
    }
  });

  test("an invented place is told on every page", async () => {
    const table = await sampleTable({ legs: 30, info: { invented: true } });
    const { pages } = legTablePages(table, { paper: paperSize("a5") }, plainRuler);
    expect(pages.length).toBeGreaterThan(3);
    for (const [i, page] of pages.entries()) {
      expect(bareOf(page.items)).toContain(bare(INVENTED));
      expect(bareOf(page.items)).toContain(bare(`Page ${i + 1} of ${pages.length}`));
    }
  });

  test("a leg that fits on a page is not cut; the heading stands on every page that has legs", async () => {
    const table = await sampleTable({ legs: 40 });
    const { pages } = legTablePages(table, { paper: A4 }, plainRuler);
    const texts = pages.map(({ items }) => measured(items, plainRuler).map(({ item }) => item.text));
    for (const page of texts) {
      expect(page.some((text) => text.includes("continued"))).toBe(false);
      if (page.some((text) => text.includes(" → "))) expect(page).toContain("Leg");
    }
  });

  test("a walk without legs is refused in one sentence, a column that is none by its name", async () => {
    const empty = await sampleTable({ legs: 0 });
    expect(() => legTablePages(empty, { paper: A4 }, plainRuler)).toThrow("a walk needs two points");
    const table = await sampleTable();
    expect(() => legTablePages(table, { paper: A4, columns: ["speed"] }, plainRuler)).toThrow("“speed”");
    expect(() => legTablePages(table, { paper: A4, blanks: ["toString"] }, plainRuler)).toThrow("“toString”");
  });

  test("any labels, lengths, columns and papers: nothing outside the paper, nothing on top of another", async () => {
    const label = fc.oneof(
      fc.string({ unit: "grapheme", maxLength: 60 }),
      fc.constantFrom(
        "ひらがなの名前",
        "שער העמק",
        "🏔️⛺",
        "W".repeat(500),
        "Upper\nSheepfold",
        "a b\u00a0c ".repeat(60),
      ),
    );
    await fc.assert(
      fc.asyncProperty(
        fc.array(label, { maxLength: 8 }),
        fc.integer({ min: 1, max: 8 }),
        fc.constantFrom(...Object.keys(PAPERS)),
        fc.boolean(),
        fc.boolean(),
        fc.subarray(Object.keys(LEG_COLUMNS)),
        fc.subarray(BLANKS.map(({ id }) => id)),
        fc.constantFrom(undefined, "questions" as const, "answers" as const),
        async (labels, legs, paper, landscape, large, columns, blanks, handout) => {
          const table = await sampleTable({ legs, labels, noMap: legs % 2 === 0, describe: legs % 3 === 0 });
          const wish = {
            paper: paperOf(paper, landscape),
            large,
            columns,
            blanks,
            ...(handout && { handout }),
          };
          for (const page of legTablePages(table, wish, plainRuler).pages) {
            expectInside(page, 5, plainRuler);
            expectApart(page, plainRuler);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  test("300 legs take a page each few legs, and every one is there", async () => {
    const table = await sampleTable({ legs: 300, noMap: true });
    const { pages } = legTablePages(table, { paper: A4, columns: ["bearing", "distanceM"] }, plainRuler);
    const numbers = pages.flatMap(({ items }) =>
      flat(items).flatMap((item) =>
        item.kind === "text" && /^\d+$/.test(item.text) ? Number(item.text) : [],
      ),
    );
    expect(numbers).toEqual(Array.from({ length: 300 }, (_, i) => i + 1));
  });
});

describe("handouts", () => {
  test("the learner's sheet tells no figure that is asked for; the answers tell it and what is accepted, under the same numbers", async () => {
    const table = await sampleTable({ legs: 4 });
    const asked = legTablePages(table, { paper: A4, handout: "questions" }, plainRuler);
    const answers = legTablePages(table, { paper: A4, handout: "answers" }, plainRuler);
    const words = (set: typeof asked) =>
      set.pages.flatMap(({ items }) => measured(items, plainRuler).map(({ item }) => item.text));
    for (const leg of table.figures.legs)
      for (const id of ["bearing", "distanceM", "paces"] as const) {
        const text = LEG_COLUMNS[id].text(leg, table);
        expect(words(asked)).not.toContain(text);
        expect(words(answers)).toContain(text);
      }
    const deg = Math.round(table.figures.legs[0]?.bearingMagneticDeg ?? NaN);
    const accepted = words(answers).find((text) => / to /.test(text) && text.endsWith("°")) ?? "";
    const [low, high] = accepted.split(" to ").map((text) => Number.parseInt(text, 10));
    expect([(deg - 2 + 360) % 360, (deg + 2) % 360]).toEqual([low, high]);
    expect(bare(words(asked).join(""))).toContain(bare("within 2° of the bearing"));
  });
});
