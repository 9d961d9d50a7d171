import type { GroupItem, PageItem, Rect, ShapeItem, TextItem } from "../../../../core/sheet/page/page.ts";
import type { TextRuler } from "../../../../core/sheet/page/text-ruler.ts";

/** All shapes and texts, groups opened. */
export function flat(items: readonly PageItem[]): (ShapeItem | TextItem)[] {
  return items.flatMap((item) => (item.kind === "group" ? flat(item.items) : [item]));
}

export const texts = (items: readonly PageItem[]): TextItem[] =>
  flat(items).filter((item) => item.kind === "text");

/** The groups of a name, at any depth. */
export function groupsOf(items: readonly PageItem[], name: string): GroupItem[] {
  return items.flatMap((item) =>
    item.kind !== "group" ? [] : [...(item.name === name ? [item] : []), ...groupsOf(item.items, name)],
  );
}

/** Box of a text's capitals. */
export function textBox(item: TextItem, ruler: TextRuler): Rect {
  const width = ruler.widthMm(item.text, item.face, item.sizeMm);
  const cap = ruler.capHeightMm(item.face, item.sizeMm);
  const x = item.at[0] - (item.anchor === "middle" ? width / 2 : item.anchor === "end" ? width : 0);
  return { x, y: item.at[1] - cap, width, height: cap };
}
