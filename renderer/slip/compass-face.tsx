/** A compass face with the bearing set, in the marks of the person's compass: its north up, the way to go as a strong line. */
import type { BearingToSet, Compass } from "../../core/legs/norths/bearing-to-set.ts";
import { DEG } from "../../core/units/angle.ts";
import { words } from "../words/words.ts";
import { faceFigures, faceMarks } from "./face-marks.ts";

const R = 78;
const MARK = { long: 11, middle: 7, short: 4 };

const onRing = (degrees: number, radius: number): readonly [number, number] => [
  radius * Math.sin(degrees * DEG),
  -radius * Math.cos(degrees * DEG),
];

function sector(bearing: number, radius: number): string {
  const [x, y] = onRing(bearing, radius);
  return `M0 0L0 ${-radius}A${radius} ${radius} 0 ${bearing > 180 ? 1 : 0} 1 ${x.toFixed(2)} ${y.toFixed(2)}Z`;
}

export function CompassFace({ compass, set }: { readonly compass: Compass; readonly set: BearingToSet }) {
  const { deg: bearing, adjustmentDeg } = set;
  const text = bearing === null ? words.slip.noBearing : words.slip.compass(set.text, words.north[set.north]);
  return (
    <svg class={`compass ${compass.unit}`} viewBox="-88 -88 176 176" role="img" aria-label={text}>
      <circle class="compass-plate" r={R + 6} />
      {bearing !== null && bearing > 0 && <path class="compass-turn" d={sector(bearing, R - 16)} />}
      {faceMarks(compass).map(({ deg, length }) => {
        const [x1, y1] = onRing(deg, R);
        const [x2, y2] = onRing(deg, R - MARK[length]);
        return (
          <line key={deg} class={length === "long" ? "tick long" : "tick"} x1={x1} y1={y1} x2={x2} y2={y2} />
        );
      })}
      {faceFigures(compass).map(({ deg, text: figure }) => {
        const [x, y] = onRing(deg, R - 22);
        const letter = /[A-Z]/.test(figure);
        return (
          <text
            key={deg}
            class={letter ? "compass-north" : "compass-figure"}
            x={x}
            y={y}
            text-anchor="middle"
            dominant-baseline="central"
          >
            {figure}
          </text>
        );
      })}
      <line class="compass-meridian" x1={0} y1={R - 32} x2={0} y2={-(R - 32)} />
      {adjustmentDeg !== null && (
        // Where the needle is brought to rest on a compass that has its declination set.
        <path
          class="compass-set"
          transform={`rotate(${adjustmentDeg})`}
          d={`M-4 ${R - 34}L-4 ${-(R - 42)}L0 ${-(R - 34)}L4 ${-(R - 42)}L4 ${R - 34}Z`}
        />
      )}
      {bearing !== null && (
        <g transform={`rotate(${bearing})`}>
          <line class="compass-tail" x1={0} y1={0} x2={0} y2={R - 14} />
          <line class="compass-way" x1={0} y1={0} x2={0} y2={-(R - 6)} />
          <path class="compass-tip" d={`M0 ${-(R + 5)}L7 ${-(R - 12)}L0 ${-(R - 9)}L-7 ${-(R - 12)}Z`} />
        </g>
      )}
      <circle class="compass-pin" r={3.6} />
    </svg>
  );
}
