/** Pages as a reader of the paper measures them: where each text and box really stands. */
import { expect } from "vitest";
import type { Page, PageItem, Rect, TextItem } from "../../../../core/sheet/page/page.ts";
import type { TextRuler } from "../../../../core/sheet/page/text-ruler.ts";
import { flat } from "../furniture/items.ts";

/** Box of a text from its capitals to its descent, on its head or upright. */
function boxOf(item: TextItem, ruler: TextRuler): Rect {
  const width = ruler.widthMm(item.text, item.face, item.sizeMm);
  const cap = ruler.capHeightMm(item.face, item.sizeMm);
  const descent = ruler.descentMm(item.face, item.sizeMm);
  const before = item.anchor === "middle" ? width / 2 : item.anchor === "end" ? width : 0;
  const [x, y] = item.at;
  return item.turnDeg === 180
    ? { x: x - width + before, y: y - descent, width, height: cap + descent }
    : { x: x - before, y: y - cap, width, height: cap + descent };
}

export interface Measured {
  readonly item: TextItem;
  readonly box: Rect;
}

export const measured = (items: readonly PageItem[], ruler: TextRuler): Measured[] =>
  flat(items).flatMap((item) => (item.kind === "text" ? [{ item, box: boxOf(item, ruler) }] : []));

const SLACK_MM = 1e-3;

/** Every text and every line lies on the part of the paper that printers reach. */
export function expectInside({ items, widthMm, heightMm }: Page, edgeMm: number, ruler: TextRuler): void {
  for (const { item, box } of measured(items, ruler)) {
    const inside =
      box.x >= edgeMm - SLACK_MM &&
      box.y >= edgeMm - SLACK_MM &&
      box.x + box.width <= widthMm - edgeMm + SLACK_MM &&
      box.y + box.height <= heightMm - edgeMm + SLACK_MM;
    expect(inside, `“${item.text}” at ${JSON.stringify(box)} on ${widthMm} × ${heightMm}`).toBe(true);
  }
  for (const item of flat(items)) {
    if (item.kind !== "shape") continue;
    for (const part of item.shape.parts)
      for (let i = 0; i < part.length; i += 2) {
        expect(part[i]).toBeGreaterThanOrEqual(edgeMm - SLACK_MM);
        expect(part[i]).toBeLessThanOrEqual(widthMm - edgeMm + SLACK_MM);
        expect(part[i + 1]).toBeGreaterThanOrEqual(edgeMm - SLACK_MM);
        expect(part[i + 1]).toBeLessThanOrEqual(heightMm - edgeMm + SLACK_MM);
      }
  }
}

/** No text touches another. */
export function expectApart({ items }: Page, ruler: TextRuler): void {
  const all = measured(items, ruler).toSorted((a, b) => a.box.y - b.box.y);
  for (const [i, a] of all.entries())
    for (let j = i + 1; j < all.length; j++) {
      const b = all[j] as Measured;
      if (b.box.y >= a.box.y + a.box.height - SLACK_MM) break;
      const beside =
        a.box.x + a.box.width <= b.box.x + SLACK_MM || b.box.x + b.box.width <= a.box.x + SLACK_MM;
      expect(beside, `“${a.item.text}” and “${b.item.text}”`).toBe(true);
    }
}

/** Letters of some texts without any spaces: how lines are broken does not matter. */
export const bare = (text: string): string => text.replace(/\s+/g, "");
export const bareOf = (items: readonly PageItem[]): string =>
  bare(
    flat(items)
      .map((item) => (item.kind === "text" ? item.text : ""))
      .join(""),
  );
