/**
 * Colours for white paper. What differs in kind differs in lightness too, or in its drawing, so that a grey print and a red
 * lamp still tell it: tests hold the areas' lightness and the texts' contrast.
 */
import type { Ink, PageItem } from "./page.ts";

export const INKS = {
  paper: "#ffffff",
  ink: "#17262b",
  soft: "#5b6b70",
  hairline: "#a9a294",
  works: "#17262b",
  building: "#17262b",
  roadFill: "#ffffff",
  mainRoadFill: "#f0cf8e",
  wood: "#e2edd2",
  woodEdge: "#7f9a63",
  woodName: "#3f5f2a",
  water: "#1f6296",
  waterWash: "#a9cfe4",
  waterName: "#1d5a86",
  contour: "#b98653",
  contourIndex: "#a87443",
  contourName: "#7d4f26",
  bounds: "#5b6b70",
  leg: "#12313a",
  /** Furniture and tables: one ink of the printer, crisp at any size. */
  black: "#000000",
  grid: "#3d4650",
  /** Darker than water; unlike the grid it is drawn broken. */
  magnetic: "#1d2f5f",
  follow: "#2c8c7a",
  followSoft: "#b5ddd4",
  followName: "#1c6659",
  stop: "#b4552d",
  stopSoft: "#f0c9b4",
  stopName: "#8f3f1e",
  mind: "#a8322b",
  mindName: "#8d2620",
  wash: "#e9dcbf",
  noMap: "#7b868a",
} as const satisfies Record<string, Ink>;

const channel = (ink: Ink, at: number): number => Number.parseInt(ink.slice(at, at + 2), 16);

/** Lightness of an ink as a grey printer makes it, 0–255: luma of ITU-R BT.709. */
export const greyOf = (ink: Ink): number =>
  0.2126 * channel(ink, 1) + 0.7152 * channel(ink, 3) + 0.0722 * channel(ink, 5);

export function greyInk(ink: Ink): Ink {
  const level = Math.round(greyOf(ink)).toString(16).padStart(2, "0");
  return `#${level}${level}${level}`;
}

/** The same drawing without colour, for the black-and-white option. */
export function inGrey(items: readonly PageItem[]): PageItem[] {
  return items.map((item): PageItem => {
    if (item.kind === "group") return { ...item, items: inGrey(item.items) };
    if (item.kind === "text") return { ...item, ink: greyInk(item.ink) };
    return {
      ...item,
      ...(item.fill && { fill: greyInk(item.fill) }),
      ...(item.stroke && { stroke: { ...item.stroke, ink: greyInk(item.stroke.ink) } }),
    };
  });
}
