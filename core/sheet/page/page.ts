/**
 * A printed page as plain data: shapes and text in millimetres, the origin at the upper left corner of the paper, y down.
 * What draws pages (map, furniture, tables) makes these; what writes them (PDF, SVG) knows nothing of maps.
 */

/** Millimetres on the page, x to the right, y down. */
export type PaperPoint = readonly [xMm: number, yMm: number];

export interface Rect {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** "#rrggbb". Paper has no themes: colours are meant for white paper, and must still tell apart in grey. */
export type Ink = `#${string}`;

/**
 * One or more lines or rings. Each part is x, y, x, y … in millimetres; a closed part is a ring, its first position not repeated.
 * Rings inside rings are holes (even-odd).
 */
export interface Shape {
  readonly parts: readonly Float64Array[];
  readonly closed: boolean;
}

export interface Stroke {
  readonly ink: Ink;
  readonly widthMm: number;
  /** Lengths of dashes and gaps, millimetres; empty or absent for a full line. */
  readonly dashMm?: readonly number[];
  readonly cap?: "butt" | "round";
  readonly join?: "miter" | "round";
}

export interface ShapeItem {
  readonly kind: "shape";
  readonly shape: Shape;
  readonly fill?: Ink;
  /** 0–1, default 1. */
  readonly fillOpacity?: number;
  readonly stroke?: Stroke;
}

/** The faces there are. Each has fallbacks for other scripts; the ruler and the writers choose them alike. */
export type Face = "text" | "textBold" | "name" | "nameItalic" | "nameBold";

export interface TextItem {
  readonly kind: "text";
  readonly text: string;
  /** Where the anchor of the baseline lies. */
  readonly at: PaperPoint;
  readonly face: Face;
  /** Font size (em), millimetres. 9 pt is 3.175 mm. */
  readonly sizeMm: number;
  readonly ink: Ink;
  readonly anchor?: "start" | "middle" | "end";
  /** Clockwise, about `at`. */
  readonly turnDeg?: number;
  /** A line of paper colour around the letters, so that they can be read over the map; its width beyond the letters' edge. */
  readonly haloMm?: number;
}

/** Items drawn together, cut at `clip` where there is one. */
export interface GroupItem {
  readonly kind: "group";
  /** What it is, for those who read the SVG or test the page: "contours", "legs", "grid". */
  readonly name: string;
  readonly clip?: Rect;
  readonly items: readonly PageItem[];
}

export type PageItem = ShapeItem | TextItem | GroupItem;

export interface Page {
  readonly widthMm: number;
  readonly heightMm: number;
  /** What the page is: "Sheet 2 of 5", "Leg table, page 1". */
  readonly title: string;
  readonly items: readonly PageItem[];
}

/** Pages that belong together, and what a person should know before printing them, in sentences. */
export interface PageSet {
  readonly title: string;
  readonly pages: readonly Page[];
  readonly notes: readonly string[];
}

export const POINT_MM = 25.4 / 72;
/** Font size in millimetres of so many points. */
export const points = (pt: number): number => pt * POINT_MM;

const ring = (x: number, y: number, width: number, height: number): Float64Array =>
  Float64Array.of(x, y, x + width, y, x + width, y + height, x, y + height);
export const rectShape = ({ x, y, width, height }: Rect): Shape => ({
  parts: [ring(x, y, width, height)],
  closed: true,
});
/** A line through positions. */
export const lineShape = (...positions: readonly PaperPoint[]): Shape => ({
  parts: [Float64Array.from(positions.flat())],
  closed: false,
});
export const group = (name: string, items: readonly PageItem[], clip?: Rect): GroupItem => ({
  kind: "group",
  name,
  items,
  ...(clip && { clip }),
});
