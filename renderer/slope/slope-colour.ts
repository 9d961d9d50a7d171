/** The theme's colour of the slope shading as "a1b2c3": style sheets may write it shorter, or by a name. */
import { readMapColours } from "../theme/map-colours.ts";

export function slopeColour(): string {
  const pen = new OffscreenCanvas(1, 1).getContext("2d");
  if (!pen) return "000000";
  // What is set in any way is read back in one.
  pen.fillStyle = readMapColours().steep;
  return pen.fillStyle.replace("#", "");
}
