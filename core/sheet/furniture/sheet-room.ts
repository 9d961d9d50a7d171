/**
 * Where everything goes on a field sheet. The map has the largest part: above it one line for the title, around it a band
 * for the figures of the grid, below it the furniture in columns. Arrangement and sizes are our own.
 */
import { Fault } from "../../fault.ts";
import type { Rect } from "../page/page.ts";
import type { PaperSize } from "../page/paper-size.ts";

export interface RoomWish {
  /** Edge of the paper that a printer leaves blank, millimetres; default 5, never less. */
  readonly edgeMm?: number;
  /** Side of a roamer to be printed among the furniture, millimetres; null or absent for none. */
  readonly roamerMm?: number | null;
}

export interface SheetRoom {
  readonly paper: PaperSize;
  /** The neat line: the map within it. */
  readonly map: Rect;
  /** Small paper: short words, a check line of 50 mm instead of 100, smaller secondary type. */
  readonly small: boolean;
  readonly title: Rect;
  /** Scale bars and check line. */
  readonly scale: Rect;
  /** North diagram and its words. */
  readonly north: Rect;
  /** Grid, contours, datum, source, age, attribution. */
  readonly facts: Rect;
  readonly cautions: Rect;
  /** Null when none was asked for, and when it does not fit here: then it takes a page of its own. */
  readonly roamer: Rect | null;
  /** All of the above but the map. */
  readonly furniture: readonly Rect[];
}

/** Least edge left blank by common printers, millimetres: common practice, no source. */
export const EDGE_MM = 5;
/** Band outside the neat line: figures of the grid stand upright beside and above it. */
export const BAND_MM = { side: 9.8, top: 5.6, bottom: 7.2 } as const;
export const CHECK_MM = { small: 50, usual: 100 } as const;

const TITLE_MM = 6;
const GAP_MM = 4;
/** Between the row of drawings and the text below it. */
const ROWS_MM = 1.6;
/** The check line with room for the last figure of a scale bar. */
const SCALE_WIDTH_MM = { small: CHECK_MM.small + 12, usual: CHECK_MM.usual + 12 } as const;
/** Paper that facts and cautions take in one column in the least type, square millimetres, and the most height for them. */
const TEXT_MM2 = 3600;
const MOST_TEXT_MM = 42;
/** Least side of a map worth printing. */
const LEAST_MAP_MM = 40;

/**
 * Places on a paper as it lies.
 * @throws Fault "bad-argument" for paper too small to hold a map with what must stand beside it
 */
export function sheetRoom(paper: PaperSize, wish: RoomWish = {}): SheetRoom {
  const edge = Math.max(EDGE_MM, wish.edgeMm ?? EDGE_MM);
  const inner: Rect = {
    x: edge,
    y: edge,
    width: paper.widthMm - 2 * edge,
    height: paper.heightMm - 2 * edge,
  };
  const small = Math.min(inner.width, inner.height) < 180;
  const scaleWidth = small ? SCALE_WIDTH_MM.small : SCALE_WIDTH_MM.usual;
  const below = belowMap(inner, small, scaleWidth, wish.roamerMm ?? null);
  const title: Rect = { ...inner, height: TITLE_MM };
  const top = inner.y + TITLE_MM + BAND_MM.top;
  const map: Rect = {
    x: inner.x + BAND_MM.side,
    y: top,
    width: inner.width - 2 * BAND_MM.side,
    height: inner.y + inner.height - below.height - BAND_MM.bottom - top,
  };
  if (!(map.width >= LEAST_MAP_MM && map.height >= LEAST_MAP_MM && inner.width >= scaleWidth + 40))
    throw new Fault(
      "bad-argument",
      "The paper is too small for a map with its scale, its norths and its cautions.",
      `${paper.widthMm} × ${paper.heightMm} mm`,
      "Take A5 or larger.",
    );
  const places = below.at(inner.y + inner.height - below.height);
  const { scale, north, facts, cautions, roamer } = places;
  return {
    paper,
    map,
    small,
    title,
    scale,
    north,
    facts,
    cautions,
    roamer,
    furniture: [title, scale, north, facts, cautions, ...(roamer ? [roamer] : [])],
  };
}

type Places = Pick<SheetRoom, "scale" | "north" | "facts" | "cautions" | "roamer">;
interface Below {
  readonly height: number;
  at(top: number): Places;
}

/** Columns where the paper is wide enough for all in one row; else two rows, the text below the drawings. */
function belowMap(inner: Rect, small: boolean, scaleWidth: number, roamerMm: number | null): Below {
  const { x, width } = inner;
  const drawn = small ? 28 : 32;
  const oneRow = width >= (small ? 195 : 265);
  // A roamer as high as the furniture is wide enough to be left at its right; a larger one takes a page of its own.
  const side = roamerMm === null ? 0 : roamerMm + GAP_MM + 3;
  const roamerFits = roamerMm !== null && oneRow && roamerMm <= 52 && width - side >= (small ? 195 : 265);
  const right = x + width - (roamerFits ? side : 0);
  const roamerAt = (top: number): Rect | null =>
    roamerFits ? { x: right + GAP_MM, y: top, width: side - GAP_MM, height: roamerMm + 3 } : null;
  if (!oneRow) {
    const text = small ? 25 : 21;
    return {
      height: drawn + ROWS_MM + text,
      at: (top) => {
        const half = (width - GAP_MM) / 2;
        const lower = { y: top + drawn + ROWS_MM, height: text };
        return {
          scale: { x, y: top, width: scaleWidth, height: drawn },
          north: {
            x: x + scaleWidth + GAP_MM,
            y: top,
            width: width - scaleWidth - GAP_MM,
            height: drawn,
          },
          facts: { x, ...lower, width: half },
          cautions: { x: x + half + GAP_MM, ...lower, width: half },
          roamer: null,
        };
      },
    };
  }
  const northWidth = small ? 62 : 74;
  const textX = x + scaleWidth + northWidth + 2 * GAP_MM;
  const textWidth = right - textX;
  // Two columns of text read better than one wide one, where each is wide enough.
  const columns = textWidth >= 130;
  const textHeight = columns ? 0 : Math.min(MOST_TEXT_MM, TEXT_MM2 / textWidth);
  const height = Math.max(small ? 33 : 35, textHeight, roamerFits ? roamerMm + 3 : 0);
  return {
    height,
    at: (top) => {
      const column = columns ? (textWidth - GAP_MM) / 2 : textWidth;
      const factsHeight = columns ? height : height * 0.42;
      return {
        scale: { x, y: top, width: scaleWidth, height },
        north: { x: x + scaleWidth + GAP_MM, y: top, width: northWidth, height },
        facts: { x: textX, y: top, width: column, height: factsHeight },
        cautions: columns
          ? { x: textX + column + GAP_MM, y: top, width: column, height }
          : { x: textX, y: top + factsHeight, width: column, height: height - factsHeight },
        roamer: roamerAt(top),
      };
    },
  };
}
