/** A compass face with the bearing set: the needle's north up, the way to go as a strong line. */
import { DEG } from "../../core/units/angle.ts";
import { formatBearing } from "../../core/units/format.ts";
import type { North } from "../../core/walk/walk.ts";
import { words } from "../words/words.ts";

const R = 78;

const onRing = (degrees: number, radius: number): readonly [number, number] => [
  radius * Math.sin(degrees * DEG),
  -radius * Math.cos(degrees * DEG),
];

const TICKS = Array.from({ length: 72 }, (_, i) => i * 5);

function sector(bearing: number, radius: number): string {
  const [x, y] = onRing(bearing, radius);
  return `M0 0L0 ${-radius}A${radius} ${radius} 0 ${bearing > 180 ? 1 : 0} 1 ${x.toFixed(2)} ${y.toFixed(2)}Z`;
}

export function CompassFace({ bearing, north }: { readonly bearing: number | null; readonly north: North }) {
  const text =
    bearing === null ? words.slip.noBearing : words.slip.compass(formatBearing(bearing), words.north[north]);
  return (
    <svg class="compass" viewBox="-88 -88 176 176" role="img" aria-label={text}>
      <circle class="compass-plate" r={R + 6} />
      {bearing !== null && bearing > 0 && <path class="compass-turn" d={sector(bearing, R - 16)} />}
      {TICKS.map((degrees) => {
        const length = degrees % 30 === 0 ? 11 : degrees % 10 === 0 ? 7 : 4;
        const [x1, y1] = onRing(degrees, R);
        const [x2, y2] = onRing(degrees, R - length);
        return (
          <line
            key={degrees}
            class={degrees % 30 === 0 ? "tick long" : "tick"}
            x1={x1}
            y1={y1}
            x2={x2}
            y2={y2}
          />
        );
      })}
      {[30, 60, 90, 120, 150, 180, 210, 240, 270, 300, 330].map((degrees) => {
        const [x, y] = onRing(degrees, R - 22);
        return (
          <text
            key={degrees}
            class="compass-figure"
            x={x}
            y={y}
            text-anchor="middle"
            dominant-baseline="central"
          >
            {degrees}
          </text>
        );
      })}
      <text class="compass-north" x={0} y={-(R - 22)} text-anchor="middle" dominant-baseline="central">
        N
      </text>
      <line class="compass-meridian" x1={0} y1={R - 32} x2={0} y2={-(R - 32)} />
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
