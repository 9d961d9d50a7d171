/** Points of the walk as small flags: a staff from the exact spot, a cloth with the label. */
import { cutText } from "../furniture/set-text.ts";
import { strokes } from "../map/strokes.ts";
import { INKS } from "../page/inks.ts";
import { type PageItem, type PaperPoint, rectShape } from "../page/page.ts";
import { boxAround, firstFree, type Placing, take } from "./walk-placing.ts";

const STAVES_MM = [4.2, 8, 12, 16];
const SIDES = [
  [1, 1],
  [-1, 1],
  [1, -1],
  [-1, -1],
] as const;
const MOST_LABEL_MM = 34;
const PAD_MM = 0.7;

/** The label as the fonts can set it, cut to what a flag holds. */
function flagText(label: string, { ruler, sizeMm, notes }: Placing): string {
  const missing = new Set(ruler.missing(label, "textBold"));
  const known = Array.from(label.replace(/\s+/g, " ").trim())
    .filter((letter) => !missing.has(letter) && letter !== "\u200d" && letter !== "\ufe0f")
    .join("")
    .trim();
  const text = cutText(known, MOST_LABEL_MM, "textBold", sizeMm, ruler);
  if (missing.size > 0)
    notes.push("Signs in point labels that the printed fonts do not have were left out on the sheets.");
  if (text !== known)
    notes.push("Long point labels are cut with “…” on the sheets; the table has them whole.");
  return text === "" ? "?" : text;
}

export interface Flagged {
  readonly labels: readonly string[];
  readonly at: PaperPoint;
}

/** Points nearer to one another than this share a flag: a walk that ends where it began. */
const SAME_MM = 0.4;

export function sameSpots(spots: readonly { readonly label: string; readonly at: PaperPoint }[]): Flagged[] {
  const flagged: { labels: string[]; at: PaperPoint }[] = [];
  for (const { label, at } of spots) {
    const same = flagged.find((f) => Math.hypot(f.at[0] - at[0], f.at[1] - at[1]) < SAME_MM);
    if (same) same.labels.push(label);
    else flagged.push({ labels: [label], at });
  }
  return flagged;
}

const LEADING = 1.15;
/** Labels of one flag; of more points on one spot the last ones are told in the table only. */
const MOST_LABELS = 4;

/** A staff from the exact spot with a cloth that bears the labels. */
export function flag(labels: readonly string[], at: PaperPoint, placing: Placing): PageItem[] {
  const { ruler, sizeMm, notes } = placing;
  const texts = labels.slice(0, MOST_LABELS).map((label) => flagText(label, placing));
  if (labels.length > MOST_LABELS)
    notes.push("Where many points lie on one spot, the sheets show the first labels only.");
  const cap = ruler.capHeightMm("textBold", sizeMm);
  const down = sizeMm * LEADING;
  const width = Math.max(...texts.map((text) => ruler.widthMm(text, "textBold", sizeMm))) + 2 * PAD_MM;
  const height = cap + down * (texts.length - 1) + 2 * PAD_MM;
  const [x, y] = at;
  const places = STAVES_MM.flatMap((staff) =>
    SIDES.map(([right, up]) => ({
      tip: y - up * staff,
      cloth: {
        x: right > 0 ? x : x - width,
        y: up > 0 ? y - staff : y + staff - height,
        width,
        height,
      },
    })),
  );
  const place = firstFree(placing, places, ({ cloth }) => boxAround(cloth, 0.35));
  const spot = [Float64Array.of(x - 0.005, y, x + 0.005, y)];
  if (!place) {
    notes.push("There was no room for every point's label on the sheets: points without one are dots.");
    return strokes(spot, { ink: INKS.leg, widthMm: 0.9, cap: "round" });
  }
  const { tip, cloth } = place;
  take(placing, boxAround(cloth, 0.35));
  take(placing, { x, y: (y + tip) / 2, halfWidth: 0.2, halfHeight: Math.abs(y - tip) / 2, turnDeg: 0 });
  const staff = [Float64Array.of(x, y, x, tip)];
  return [
    ...strokes(staff, { ink: INKS.paper, widthMm: 0.7 }),
    ...strokes(spot, { ink: INKS.paper, widthMm: 1.1, cap: "round" }),
    ...strokes(staff, { ink: INKS.leg, widthMm: 0.25 }),
    ...strokes(spot, { ink: INKS.leg, widthMm: 0.6, cap: "round" }),
    { kind: "shape", shape: rectShape(cloth), fill: INKS.paper, stroke: { ink: INKS.leg, widthMm: 0.25 } },
    ...texts.map((text, i): PageItem => ({
      kind: "text",
      text,
      at: [cloth.x + width / 2, cloth.y + PAD_MM + cap + i * down],
      face: "textBold",
      sizeMm,
      ink: INKS.ink,
      anchor: "middle",
    })),
  ];
}
