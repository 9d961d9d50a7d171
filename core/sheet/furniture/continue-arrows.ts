/** Arrows in the margin where the walk goes on to another sheet. */
import type { PageItem, PaperPoint } from "../page/page.ts";
import type { Edge } from "./clip-paper.ts";
import type { Margin } from "./margin.ts";
import { BLACK } from "./set-text.ts";

/** A place in the margin where the walk goes on to another sheet. */
export interface Continuation {
  /** On the neat line, millimetres on the page. */
  readonly at: PaperPoint;
  readonly edge: Edge;
  readonly sheet: number;
}

/** A triangle pointing out and the other sheet's number, moved along the edge where its place is taken. */
export function continueArrows(continues: readonly Continuation[], margin: Margin): PageItem[] {
  const items: PageItem[] = [];
  for (const { at, edge, sheet } of continues) {
    const [dx, dy] = { left: [-1, 0], right: [1, 0], top: [0, -1], bottom: [0, 1] }[edge] as [number, number];
    const [x, y] = [at[0] + dx * 0.4, at[1] + dy * 0.4];
    items.push({
      kind: "shape",
      shape: {
        parts: [
          Float64Array.of(x + dy * 1.4, y + dx * 1.4, x + dx * 2, y + dy * 2, x - dy * 1.4, y - dx * 1.4),
        ],
        closed: true,
      },
      fill: BLACK,
    });
    const beside = edge === "left" || edge === "right";
    const label = [
      [{ text: beside ? String(sheet) : `sheet ${sheet}`, look: { face: "textBold" as const, pt: 9 } }],
    ];
    for (const move of [0, 4, -4, 8, -8, 12, -12]) {
      const moved: PaperPoint = beside ? [at[0], at[1] + move] : [at[0] + move, at[1]];
      if (margin.put(label, moved, edge, 2.8)) break;
    }
  }
  return items;
}
