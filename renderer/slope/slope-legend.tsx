/** What the slope shading's marks mean, in degrees, and what it cannot show. */
import { useLayoutEffect, useRef } from "preact/hooks";
import { SLOPE_CLASSES_DEG } from "../../core/terrain/slope-tile.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { lengthUnit } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { theme } from "../theme/theme.ts";
import { slopeWords } from "../words/slope-words.ts";
import { channels, coverOf, SHARP } from "./paint-slope.ts";
import { slopeColour } from "./slope-colour.ts";
import { slopeShown, slopeWanted } from "./slope-shading.ts";
import "./slope.css";

export function SlopeLegend() {
  if (!slopeShown.value) return null;
  const cellM = openMap.value?.info.elevationCellM ?? null;
  return (
    <section class="paper slope-legend" aria-label={slopeWords.title} data-test="slope-legend">
      <div class="slope-head">
        <h2>{slopeWords.title}</h2>
        <button
          type="button"
          class="button"
          aria-label={slopeWords.close}
          title={slopeWords.close}
          onClick={() => (slopeWanted.value = false)}
        >
          ×
        </button>
      </div>
      <ul>
        {SLOPE_CLASSES_DEG.map((from, i) => (
          <li key={from}>
            <Swatch slope={i + 1} />
            {slopeWords.from(from, SLOPE_CLASSES_DEG[i + 1] ?? null)}
          </li>
        ))}
      </ul>
      <p class="soft">{slopeWords.caution(cellM === null ? null : formatAlong(cellM, lengthUnit.value))}</p>
    </section>
  );
}

const WIDTH = 32;
const HEIGHT = 16;

/** The very marks of the map. */
function Swatch({ slope }: { readonly slope: number }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const worn = theme.value;
  useLayoutEffect(() => {
    const pen = canvas.current?.getContext("2d");
    if (!pen) return;
    const [red, green, blue] = channels(slopeColour());
    const [width, height] = [WIDTH * SHARP, HEIGHT * SHARP];
    const picture = pen.createImageData(width, height);
    for (let y = 0, i = 0; y < height; y++)
      for (let x = 0; x < width; x++, i += 4)
        picture.data.set([red, green, blue, 255 * coverOf(slope, x, y)], i);
    pen.putImageData(picture, 0, 0);
  }, [slope, worn]);
  return (
    <canvas
      ref={canvas}
      class="slope-swatch"
      width={WIDTH * SHARP}
      height={HEIGHT * SHARP}
      aria-hidden="true"
    />
  );
}
