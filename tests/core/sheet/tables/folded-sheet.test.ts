/** A model of folding that knows nothing of how the pages were laid out: panels are turned over one another along creases. */
import { describe, expect, test } from "vitest";
import { paperSize } from "../../../../core/sheet/page/paper-size.ts";
import { onSheet, panelsOf } from "../../../../core/sheet/tables/folded-sheet.ts";
import { textAt } from "../../../../core/sheet/furniture/set-text.ts";

type Key = `${number},${number}`;
/** Neighbours on the sheet that the cut does not part: columns 0–3, rows 0 (upper) and 1. */
function uncut(column: number, row: number): { key: Key; across: "x" | "y" }[] {
  const beside = [column - 1, column + 1]
    .filter((c) => c >= 0 && c < 4)
    .map((c) => ({ key: `${c},${row}` as const, across: "x" as const }));
  const over =
    column === 0 || column === 3 ? [{ key: `${column},${1 - row}` as Key, across: "y" as const }] : [];
  return [...beside, ...over];
}

describe("the folded book", () => {
  const panels = panelsOf(paperSize("a4"));
  const at = new Map(
    panels.map((panel) => [
      `${Math.round(panel.rect.x / 74.25)},${Math.round(panel.rect.y / 105)}` as const,
      panel,
    ]),
  );
  const placeOf = (page: number): Key => [...at].find(([, panel]) => panel.page === page)?.[0] as Key;
  const joins = (a: number, b: number): "x" | "y" | null => {
    const [column, row] = placeOf(a).split(",").map(Number) as [number, number];
    return uncut(column, row).find(({ key }) => key === placeOf(b))?.across ?? null;
  };

  test("ISO 216: A4 has eight panels of A7, 74 × 105 mm", () => {
    expect(panels).toHaveLength(8);
    for (const { rect } of panels) {
      expect(Math.floor(rect.width)).toBe(74);
      expect(Math.floor(rect.height)).toBe(105);
    }
    expect(panels.map(({ page }) => page)).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
  });

  test("folded flat along every crease, all panels lie on one another, upright, with odd pages facing one way", () => {
    // Each crossing of a crease mirrors: x across a vertical one, y across the horizontal one. Ways round the cut must agree.
    const state = new Map<Key, { x: 1 | -1; y: 1 | -1 }>([[placeOf(1), { x: 1, y: 1 }]]);
    const open = [placeOf(1)];
    for (let key = open.pop(); key; key = open.pop()) {
      const [column, row] = key.split(",").map(Number) as [number, number];
      const { x, y } = state.get(key) as { x: 1 | -1; y: 1 | -1 };
      for (const { key: next, across } of uncut(column, row)) {
        const there = across === "x" ? { x: -x as 1 | -1, y } : { x, y: -y as 1 | -1 };
        if (state.has(next)) expect(state.get(next)).toEqual(there);
        else {
          state.set(next, there);
          open.push(next);
        }
      }
    }
    expect(state.size).toBe(8);
    for (const [key, { x, y }] of state) {
      const panel = at.get(key);
      // Up on the flat sheet is up for upright panels, down for turned ones; the fold may mirror it.
      expect(panel?.turned ? -y : y, `page ${panel?.page}`).toBe(1);
      // Mirrored once it shows its back.
      expect(x * y, `page ${panel?.page}`).toBe((panel?.page ?? 0) % 2 === 1 ? 1 : -1);
    }
  });

  test("facing pages share a spine; both sides of a leaf share their outer or upper edge", () => {
    for (const [left, right] of [
      [8, 1],
      [2, 3],
      [4, 5],
      [6, 7],
    ] as const) {
      expect(joins(left, right)).toBe("x");
      // Left page left of right page, as their reader sees them.
      const a = panels[left - 1];
      const b = panels[right - 1];
      const order = (b?.rect.x ?? 0) - (a?.rect.x ?? 0);
      expect(a?.turned ? -order : order).toBeGreaterThan(0);
      expect(a?.turned).toBe(b?.turned);
    }
    for (const [front, back] of [
      [1, 2],
      [3, 4],
      [5, 6],
      [7, 8],
    ] as const)
      expect(joins(front, back)).not.toBeNull();
  });

  test("text on a panel that stands on its head is turned about the panel's middle", () => {
    const panel = panels.find(({ turned }) => turned);
    if (!panel) throw new Error("no turned panel");
    const [item] = onSheet([textAt("A", [10, 20])], panel);
    expect(item).toMatchObject({
      at: [panel.rect.x + panel.rect.width - 10, panel.rect.y + panel.rect.height - 20],
      turnDeg: 180,
    });
  });
});
