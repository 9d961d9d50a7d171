import { beforeAll, describe, expect, test } from "vitest";
import { DEFAULT_ADVICE_SETTINGS } from "../../../core/legs/advice/advice-settings.ts";
import { HOW_ADVICE, type HowAdviceFigure, howAdviceOf } from "../../../core/legs/how/how-advice.ts";
import type { LegTable } from "../../../core/legs/table/leg-table.ts";
import { sampleTable } from "./support/sample-table.ts";

const FIGURES = Object.keys(HOW_ADVICE) as HowAdviceFigure[];
const OF = { advice: null, settings: DEFAULT_ADVICE_SETTINGS };

let table: LegTable;
beforeAll(async () => {
  table = await sampleTable();
});

const told = (figure: HowAdviceFigure, leg = 0, change: Partial<typeof OF> = {}): string =>
  howAdviceOf(figure, table.figures.legs[leg]!, table, { ...OF, ...change })
    .join(" ")
    .replaceAll(/[\u00a0\u202f]/g, " ");

describe("how advice was worked out", () => {
  test("every piece is explained in whole sentences, with a source or with the word that there is none", () => {
    for (const figure of FIGURES) {
      const sentences = howAdviceOf(figure, table.figures.legs[0]!, table, OF);
      expect(sentences.length).toBeGreaterThan(0);
      for (const sentence of sentences) expect(sentence).toMatch(/^[A-Z“].*[.!?]$/s);
      if (figure !== "hazards") expect(sentences.join(" ")).toMatch(/source|US Army/);
    }
  });

  // The values are those the walkers are sent with: none may be left unsaid.
  test("the odds name every value they go by, and change with it", () => {
    const text = told("odds");
    for (const value of ["10,000", "50 m", "2°", "3°", "5 %", "30 m", "67 of 100"])
      expect(text.replace("10 000", "10,000")).toContain(value);
    const other = told("odds", 0, {
      settings: { ...DEFAULT_ADVICE_SETTINGS, steering: "unaided", sightM: 80, walkers: 2000 },
    });
    for (const value of ["2,000", "6.5°", "9°", "25 m", "80 m"])
      expect(other.replace(/(\d) (\d{3})/g, "$1,$2").replace("2000", "2,000")).toContain(value);
    expect(other).not.toContain("sight from mark to mark");
  });

  test("dangers carry the caution, the way out its reach and the angle it keeps off", () => {
    expect(told("hazards")).toContain("there can be others");
    expect(told("escape")).toMatch(/within 3,?000 m/);
    expect(told("escape")).toContain("ground of 30° and more");
  });

  test("without a map there is nothing to explain but that", async () => {
    const bare = await sampleTable({ noMap: true });
    for (const figure of FIGURES)
      expect(howAdviceOf(figure, bare.figures.legs[0]!, bare, OF)).toEqual([
        "There is no map here to look on.",
      ]);
  });
});
