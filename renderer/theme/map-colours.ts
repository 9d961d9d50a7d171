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

/** Reads the tokens of a theme from the document (see tokens.css); those in force when none is named. */
export function readMapColours(of: string | null = null): MapColours {
  const root = document.documentElement;
  const worn = root.dataset["theme"];
  if (of === null || of === worn) return readTokens(root);
  // Put back before anything is drawn.
  root.dataset["theme"] = of;
  const colours = readTokens(root);
  if (worn === undefined) delete root.dataset["theme"];
  else root.dataset["theme"] = worn;
  return colours;
}

function readTokens(root: HTMLElement): MapColours {
  const style = getComputedStyle(root);
  const colours = {} as Record<MapColour, string>;
  for (const name of NAMES) colours[name] = style.getPropertyValue(`--${name}`).trim();
  return { ...colours, shadeStrength: Number(style.getPropertyValue("--shade-strength")) || 0 };
}
