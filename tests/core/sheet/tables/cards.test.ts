import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { formatPosition } from "../../../../core/geodesy/format-position.ts";
import { CAUTIONS } from "../../../../core/legs/cautions.ts";
import { instructionOf } from "../../../../core/legs/instruction.ts";
import { paperSize } from "../../../../core/sheet/page/paper-size.ts";
import { pocketCardPages } from "../../../../core/sheet/tables/pocket-cards.ts";
import { routeCardPages } from "../../../../core/sheet/tables/route-card.ts";
import { sampleTable } from "../../legs/support/sample-table.ts";
import { groupsOf, texts } from "../furniture/items.ts";
import { plainRuler } from "../furniture/plain-ruler.ts";
import { bare, bareOf, expectApart, expectInside } from "./measured.ts";

const A4 = paperSize("a4");

describe("route card", () => {
  test("places with their grid references and times, turning back, what to do, cautions", async () => {
    const table = await sampleTable({ given: { startTime: "09:00", timeZone: "UTC" } });
    const { pages } = routeCardPages(
      table,
      { paper: A4, party: { names: ["Ash Fenner", "Rowan Pike"] } },
      plainRuler,
    );
    const all = bareOf(pages.flatMap(({ items }) => items));
    let from = 0;
    for (const { lonLat } of table.points) {
      const at = all.indexOf(bare(formatPosition(lonLat, "mgrs")), from);
      expect(at).toBeGreaterThanOrEqual(from);
      from = at + 1;
    }
    // Times are given to the nearest minute.
    for (const { arrival } of table.figures.legs)
      expect(all).toContain(new Date(Date.parse(arrival ?? "") + 30_000).toISOString().slice(11, 16));
    for (const caution of CAUTIONS) expect(all).toContain(bare(caution));
    expect(all).toContain("AshFenner,RowanPike");
    // No number of any emergency service: each country has its own.
    expect(all).not.toMatch(/\b(112|999|911)\b/);
    expect(all).toContain(bare("emergency number of the country they walk in"));
    expect(all).toContain(bare("Turn back by"));
  });

  test("without a time of setting out there are lines to write on, and it is said", async () => {
    const card = routeCardPages(await sampleTable(), { paper: A4 }, plainRuler);
    expect(card.notes).toContain(
      "No time of setting out is chosen: the card has lines to write the times on.",
    );
  });

  test("a walk without legs is refused in one sentence", async () => {
    const empty = await sampleTable({ legs: 0 });
    expect(() => routeCardPages(empty, { paper: A4 }, plainRuler)).toThrow("a walk needs two points");
    expect(() => pocketCardPages(empty, { paper: A4 }, plainRuler)).toThrow("a walk needs two points");
  });

  test("any label on any paper keeps inside and apart", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.string({ unit: "grapheme", maxLength: 500 }), { maxLength: 6 }),
        fc.constantFrom("a5", "a4", "a3", "letter"),
        fc.boolean(),
        fc.boolean(),
        async (labels, paper, landscape, large) => {
          const table = await sampleTable({ labels, legs: 5 });
          const wish = { paper: paperSize(paper, landscape), large, party: { names: labels } };
          for (const page of routeCardPages(table, wish, plainRuler).pages) {
            expectInside(page, 5, plainRuler);
            expectApart(page, plainRuler);
          }
        },
      ),
      { numRuns: 30 },
    );
  });
});

describe("pocket cards", () => {
  test("legs stand in order through the book, each with its bearing and paces as its line says them", async () => {
    const table = await sampleTable({ legs: 9 });
    const { pages } = pocketCardPages(table, { paper: paperSize("a4") }, plainRuler);
    const inOrder = pages.flatMap((page) =>
      Array.from({ length: 8 }, (_, i) => groupsOf(page.items, `panel ${i + 1}`)).flat(),
    );
    const words = inOrder.flatMap(({ items }) => texts(items).map(({ text }) => text));
    let from = 0;
    for (const leg of table.figures.legs) {
      const at = words.findIndex((text, i) => i >= from && text.startsWith(`${leg.n} ${leg.from} →`));
      expect(at, `leg ${leg.n}`).toBeGreaterThanOrEqual(0);
      const [bearing = ""] = instructionOf(leg, table).split(" ");
      expect(words[at + 1]).toBe(bearing);
      from = at + 1;
    }
  });

  test("nothing outside what printers reach, nothing on a fold, nothing on top of another; 60 legs take several books", async () => {
    for (const [paper, large] of [
      ["a4", false],
      ["letter", false],
      ["a3", true],
    ] as const) {
      const table = await sampleTable({ legs: 60, labels: ["W".repeat(500), "ひらがな", "🏔️"] });
      const { pages } = pocketCardPages(table, { paper: paperSize(paper), large }, plainRuler);
      expect(pages.length).toBeGreaterThan(1);
      for (const page of pages) {
        expectInside(page, 5, plainRuler);
        expectApart(page, plainRuler);
      }
    }
  });

  test("paper too small for the type is refused in one sentence", async () => {
    const table = await sampleTable();
    expect(() => pocketCardPages(table, { paper: paperSize("a5"), large: true }, plainRuler)).toThrow(
      "larger paper",
    );
  });
});
