/** The theme's colours for the map, which cannot read CSS by itself. */
const NAMES = [
  "ground",
  "ink",
  "mind",
  "halo",
  "water",
  "wood",
  "water-wash",
  "wood-edge",
  "wood-name",
  "contour",
  "contour-index",
  "contour-name",
  "works",
  "road-fill",
  "building",
  "cliff",
  "wet",
  "bounds",
  "hill-shade",
  "hill-light",
  "steep",
] as const;

export type MapColour = (typeof NAMES)[number];

export interface MapColours extends Readonly<Record<MapColour, string>> {
  /** Strength of the hill shading, 0–1. */
  readonly shadeStrength: number;
}

/** Reads the tokens in force on the document (see tokens.css). */
export function readMapColours(): MapColours {
  const style = getComputedStyle(document.documentElement);
  const colours = {} as Record<MapColour, string>;
  for (const name of NAMES) colours[name] = style.getPropertyValue(`--${name}`).trim();
  return { ...colours, shadeStrength: Number(style.getPropertyValue("--shade-strength")) || 0 };
}
