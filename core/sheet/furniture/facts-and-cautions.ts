/** Facts and cautions in their columns. */
import { group, type PageItem, type Rect } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { type Paragraph, type SetColumn, setColumn } from "./set-text.ts";
import type { SheetRoom } from "./sheet-room.ts";

/** Small print, rather than a caution or a source left out. */
const LAST_PT = 6;
/** Between facts and cautions in one column, millimetres. */
const GAP_MM = 1;

export interface Sizes {
  readonly pt: number;
  readonly leastPt: number;
}

/** Cautions are set whole, whatever they take; where facts stand above them in one column these have what is left. */
export function factsAndCautions(
  { facts, cautions }: SheetRoom,
  factWords: readonly Paragraph[],
  cautionParagraphs: readonly Paragraph[],
  ruler: TextRuler,
  sizes: Sizes,
): PageItem[] {
  const stacked = facts.x === cautions.x;
  const whole: Rect = stacked ? { ...facts, height: facts.height + cautions.height } : facts;
  const set = (pt: number): readonly [SetColumn, SetColumn] => {
    const size = { pt, leastPt: pt };
    const below = setColumn(cautionParagraphs, stacked ? whole : cautions, ruler, size);
    const room = stacked ? { ...whole, height: whole.height - below.heightMm - GAP_MM } : facts;
    return [setColumn(factWords, room, ruler, size), below];
  };
  let pt = sizes.pt;
  let [upper, lower] = set(pt);
  while ((upper.cut || lower.cut) && pt - 0.25 >= LAST_PT) [upper, lower] = set((pt -= 0.25));
  const lowerAt = stacked ? { ...whole, y: whole.y + upper.heightMm + GAP_MM } : cautions;
  const height = whole.y + whole.height - lowerAt.y;
  return [
    group("facts", upper.items),
    group(
      "cautions",
      setColumn(cautionParagraphs, stacked ? { ...lowerAt, height } : cautions, ruler, {
        pt,
        leastPt: LAST_PT,
      }).items,
    ),
  ];
}
