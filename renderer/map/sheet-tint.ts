/**
 * A scanned sheet in the colours of the theme: as it is by day, dimmed in the dark, in red light alone by night. It is
 * never turned from light to dark: printed relief would look like its opposite. Lines drawn over it are those of the light
 * theme, seen through the same glass.
 */
import type { MapColours } from "../theme/map-colours.ts";
import type { ThemeName } from "../theme/theme.ts";

/** How much light is left of white paper. Common practice, no source. */
const LIGHT: Readonly<Record<ThemeName, number>> = { light: 1, dark: 0.68, night: 0.5 };

/** @returns what a colour becomes, channels 0–255 */
function through(tint: ThemeName, r: number, g: number, b: number): readonly [number, number, number] {
  const left = LIGHT[tint];
  if (tint !== "night") return [r * left, g * left, b * left];
  // Luma. Source: ITU-R BT.709, item 3.2.
  const luma = (0.2126 * r + 0.7152 * g + 0.0722 * b) / 255;
  // Squared, because coloured lines differ from paper by little but their colour, which goes.
  return [luma * luma * 255 * left, 0, 0];
}

/** Changes pixels (red, green, blue, opacity) in place. */
export function tintPixels(data: Uint8ClampedArray, tint: ThemeName): void {
  for (let i = 0; i < data.length; i += 4) {
    const [r, g, b] = through(tint, data[i]!, data[i + 1]!, data[i + 2]!);
    data[i] = r;
    data[i + 1] = g;
    data[i + 2] = b;
  }
}

/** @param colours of the light theme, as "#rrggbb" */
export function tintColours(colours: MapColours, tint: ThemeName): MapColours {
  const tinted = Object.entries(colours).map(([name, colour]: [string, string | number]) => {
    if (typeof colour === "number") return [name, colour];
    const channels = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
    if (channels.some(Number.isNaN)) return [name, colour];
    const [r = 0, g = 0, b = 0] = channels;
    const hex = through(tint, r, g, b).map((one) => Math.round(one).toString(16).padStart(2, "0"));
    return [name, `#${hex.join("")}`];
  });
  return Object.fromEntries(tinted) as MapColours;
}
