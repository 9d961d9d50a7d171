import { describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { fieldSheets } from "../../../core/sheet/field-sheet.ts";
import type { PageItem, PageSet } from "../../../core/sheet/page/page.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { plainRuler } from "./furniture/plain-ruler.ts";
import { jobOf } from "./job.ts";

const WALK: readonly LonLat[] = [
  [20.44, -33.98],
  [20.452, -33.975],
  [20.46, -33.984],
];
/** A walk of so many legs of about 340 m, to and fro along a line. */
const longWalk = (legs: number): LonLat[] =>
  Array.from({ length: legs + 1 }, (_, i): LonLat => [20.4 + i * 0.003, -33.98 + (i % 2) * 0.002]);

const made = (...args: Parameters<typeof jobOf>): Promise<PageSet> =>
  fieldSheets(jobOf(...args), null, plainRuler);
const titles = ({ pages }: PageSet): string[] => pages.map(({ title }) => title);

function texts(items: readonly PageItem[]): string[] {
  return items.flatMap((item) =>
    item.kind === "group" ? texts(item.items) : item.kind === "text" ? [item.text] : [],
  );
}

describe("the papers of a job", () => {
  it("come in one order, whatever order they are named in", async () => {
    const set = await made(WALK, { parts: ["answers", "table", "sheets", "card"], paper: "a3" });
    const kinds = ["Field sheet", "Leg table", "Route card", "Answers"];
    const found = titles(set).map((title) => kinds.findIndex((kind) => title.startsWith(kind)));
    expect(found).toEqual(found.toSorted((a, b) => a - b));
    expect(new Set(found)).toEqual(new Set([0, 1, 2, 3]));
    for (const { widthMm, heightMm } of set.pages)
      expect([widthMm, heightMm].sort((a, b) => a - b)).toEqual([297, 420]);
  });

  it("have an index before several sheets, and none before one", async () => {
    expect(titles(await made(WALK, { parts: ["sheets"], index: true }))).toEqual(["Field sheet"]);
    const several = await made(WALK, { parts: ["sheets"], index: true, way: "strips" });
    expect(titles(several)).toEqual(["Index of 2 sheets", "Sheet 1 of 2", "Sheet 2 of 2"]);
  });

  it("hold every leg of a walk of 300, in the table and on some sheet", async () => {
    const set = await made(longWalk(300), { parts: ["sheets", "table"], scale: 25_000 });
    const all = set.pages.flatMap(({ items }) => texts(items)).join("\n");
    for (const n of [1, 150, 300]) expect(all).toMatch(new RegExp(`(^|\\n)${n}(\\n|$)`));
    expect(set.notes.join(" ")).not.toMatch(/lies on no sheet/);
    expect(titles(set).filter((title) => title.startsWith("Sheet ")).length).toBeGreaterThan(5);
  }, 60_000);

  it("say when a frame put by hand leaves out part of the walk", async () => {
    const set = await made(WALK, {
      parts: ["sheets"],
      frames: [{ centre: [20.44, -33.98], scale: 2_000 }],
    });
    expect(set.notes.join(" ")).toMatch(/Part of legs? .* lies on no sheet/);
  });

  it("put a roamer that has no room in the margin on a page of its own", async () => {
    const set = await made(WALK, { parts: ["sheets"], roamer: true, paper: "a4" });
    expect(titles(set).at(-1)).toMatch(/Roamer/);
  });

  it("are told as they are drawn, and end when they are no longer wanted", async () => {
    const steps: [number, number][] = [];
    const stop = new AbortController();
    const work = fieldSheets(jobOf(longWalk(40), { parts: ["sheets"] }), null, plainRuler, {
      signal: stop.signal,
      async progress(done, all) {
        steps.push([done, all]);
        if (steps.length === 3) stop.abort();
      },
    });
    await expect(work).rejects.toMatchObject({ code: "cancelled" });
    expect(steps).toHaveLength(3);
    expect(steps.map(([done]) => done)).toEqual([0, 1, 2]);
    expect(new Set(steps.map(([, all]) => all)).size).toBe(1);
  });
});

describe("what cannot be printed is said in one sentence", () => {
  it.each([
    ["nothing chosen", WALK, { parts: [] }, /nothing chosen/],
    ["no walk and no map", [], { parts: ["sheets"] as const }, /no walk and no place/],
    ["a table without legs", [], { parts: ["table"] as const }, /no legs yet/],
    ["a column there is not", WALK, { parts: ["table"] as const, columns: ["bearing", "mood"] }, /mood/],
    ["a scale that cannot be", WALK, { parts: ["sheets"] as const, scale: 20 }, /1:20/],
    [
      "a grid that cannot be",
      WALK,
      { parts: ["sheets"] as const, grid: { name: "Odd", definition: "+proj=none" } },
      /Odd|projection|grid/i,
    ],
  ])("%s", async (_what, points, wish, message) => {
    const fault = await made(points, wish).then(
      () => null,
      (thrown: unknown) => thrown,
    );
    expect(fault).toBeInstanceOf(Fault);
    expect((fault as Fault).code).not.toBe("internal");
    expect((fault as Fault).message).toMatch(message);
  });
});
