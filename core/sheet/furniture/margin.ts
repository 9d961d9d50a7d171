/** The band around the neat line: what stands in it is put down in order of weight, and nothing over what stands already. */
import type { PageItem, PaperPoint, Rect, TextItem } from "../page/page.ts";
import { points } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { boxesMeet, type Edge } from "./clip-paper.ts";
import { textAt, type TextLook } from "./set-text.ts";

/** Part of a label, in one size. */
export interface Run {
  readonly text: string;
  readonly look: TextLook;
  /** Above and below the sheet this run, not the whole label, stands at the place it is for. */
  readonly centred?: boolean;
}

/** Lines of a label, each of runs. */
export type Label = readonly (readonly Run[])[];

/** Distance of letters from the neat line, millimetres. */
const OFF_MM = 1;
/** Between two lines of one label. */
const BETWEEN_MM = 0.9;
/** Least room between two labels. */
const CLEAR_MM = 0.8;

export class Margin {
  readonly items: PageItem[] = [];
  private readonly boxes: Rect[] = [];

  constructor(
    private readonly map: Rect,
    private readonly paper: Rect,
    private readonly ruler: TextRuler,
  ) {}

  /** Keeps a box free of labels. */
  keep(box: Rect): void {
    this.boxes.push(box);
  }

  /**
   * A label outside the neat line at a place on it, upright, its middle beside the place.
   * @param offMm from the neat line, where something stands between
   * @returns false where it would stand on another or beyond the paper's printable part: then it is left out
   */
  put(label: Label, at: PaperPoint, edge: Edge, offMm = OFF_MM): boolean {
    const sizes = label.map((line) => this.sizeOf(line));
    const height = sizes.reduce((sum, { height: h }) => sum + h, 0) + BETWEEN_MM * (label.length - 1);
    const width = Math.max(...sizes.map((s) => s.width));
    const beside = edge === "left" || edge === "right";
    const shift = beside ? 0 : width / 2 - this.middleOf(label[0] ?? [], width);
    const box = this.boxAt([at[0] + shift, at[1]], edge, width, height, offMm);
    const { paper } = this;
    const grown: Rect = {
      x: box.x - CLEAR_MM / 2,
      y: box.y - CLEAR_MM / 2,
      width: box.width + CLEAR_MM,
      height: box.height + CLEAR_MM,
    };
    const beyond =
      box.x < paper.x - 1e-6 ||
      box.y < paper.y - 1e-6 ||
      box.x + box.width > paper.x + paper.width + 1e-6 ||
      box.y + box.height > paper.y + paper.height + 1e-6;
    if (beyond || this.boxes.some((other) => boxesMeet(other, grown))) return false;
    this.boxes.push(grown);
    let y = box.y;
    label.forEach((line, i) => {
      const size = sizes[i] as { width: number; height: number };
      y += size.height;
      const x =
        edge === "left"
          ? box.x + box.width - size.width
          : edge === "right"
            ? box.x
            : box.x + (box.width - size.width) / 2;
      this.items.push(...this.setLine(line, [x, y]));
      y += BETWEEN_MM;
    });
    return true;
  }

  private boxAt([x, y]: PaperPoint, edge: Edge, width: number, height: number, offMm: number): Rect {
    const { map } = this;
    switch (edge) {
      case "left":
        return { x: map.x - offMm - width, y: y - height / 2, width, height };
      case "right":
        return { x: map.x + map.width + offMm, y: y - height / 2, width, height };
      case "top":
        return { x: x - width / 2, y: map.y - offMm - height, width, height };
      case "bottom":
        return { x: x - width / 2, y: map.y + map.height + offMm, width, height };
    }
  }

  /** Middle of the run that is to stand at the place, from the label's left. */
  private middleOf(line: readonly Run[], width: number): number {
    let x = 0;
    for (const run of line) {
      const w = widthOf(run, this.ruler);
      if (run.centred) return x + w / 2;
      x += w;
    }
    return width / 2;
  }

  private sizeOf(line: readonly Run[]): { readonly width: number; readonly height: number } {
    return {
      width: line.reduce((sum, run) => sum + widthOf(run, this.ruler), 0),
      height: Math.max(
        ...line.map(({ look }) => this.ruler.capHeightMm(look.face ?? "text", points(look.pt ?? 9))),
      ),
    };
  }

  private setLine(line: readonly Run[], [x, y]: PaperPoint): TextItem[] {
    let at = x;
    return line.map((run) => {
      const item = textAt(run.text, [at, y], run.look);
      at += widthOf(run, this.ruler);
      return item;
    });
  }
}

const widthOf = ({ text, look }: Run, ruler: TextRuler): number =>
  ruler.widthMm(text, look.face ?? "text", points(look.pt ?? 9));
