/** A small picture of what comes in: the line of the file, and the legs that are left of it. */
import { meridianRadius, parallelRadius } from "../../core/geodesy/ellipsoid.ts";
import { DEG } from "../../core/units/angle.ts";
import { pointLabel, type Walk } from "../../core/walk/walk.ts";
import { lengthUnit } from "../app/settings.ts";
import { exchangeWords } from "../words/exchange-words.ts";
import { roundLength } from "../map/scale-bar.tsx";
import { scaleLength } from "../map/scale-length.ts";

const { in: say } = exchangeWords;
const WIDE = 400;
const TALL = 300;
const EDGE = 22;
/** Dots closer than this run into one another: then only the ends are marked. */
const MOST_DOTS = 200;

interface Props {
  readonly walk: Walk;
  readonly line: Float64Array;
}

export function LinePicture({ walk, line }: Props) {
  const points = walk.points.map(({ lonLat }) => lonLat);
  const to = placing(points, line);
  const path = (xy: readonly (readonly [number, number])[]): string =>
    xy.map(([x, y], i) => `${i === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`).join("");
  const legs = points.map(([lon, lat]) => to.place(lon, lat));
  const track: [number, number][] = [];
  for (let i = 0; i + 1 < line.length; i += 2) track.push(to.place(line[i] as number, line[i + 1] as number));
  const marked = legs.length > MOST_DOTS ? [legs[0], legs.at(-1)] : legs;
  const bar = scaleLength(WIDE / 3 / to.perM, lengthUnit.value);
  const [start] = legs;
  return (
    <svg
      class="line-picture"
      viewBox={`0 0 ${WIDE} ${TALL}`}
      role="img"
      aria-label={say.picture(Math.max(0, points.length - 1), pointLabel(walk, 0))}
      data-test="line-picture"
    >
      {track.length > 1 && <path class="picture-track" d={path(track)} />}
      <path class="picture-legs" d={path(legs)} />
      {marked.map((at, i) => at && <circle key={i} class="picture-dot" cx={at[0]} cy={at[1]} r={2.5} />)}
      {start && <circle class="picture-start" cx={start[0]} cy={start[1]} r={6} />}
      <g class="picture-scale" transform={`translate(${EDGE / 2} ${TALL - 8})`}>
        <path d={`M0 -4V0H${(bar * to.perM).toFixed(1)}V-4`} />
        <text x={bar * to.perM + 6} y={0}>
          {roundLength(bar, lengthUnit.value)}
        </text>
      </g>
      <g class="picture-north" transform={`translate(${WIDE - 14} 12)`}>
        <path d="M0 0L-4 10L0 7L4 10Z" />
        <text x={0} y={24} text-anchor="middle">
          {say.north}
        </text>
      </g>
    </svg>
  );
}

/** Plate carrée about the middle: true enough for a picture of this size. */
function placing(points: readonly (readonly [number, number])[], line: Float64Array) {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  const take = (lon: number, lat: number): void => {
    west = Math.min(west, lon);
    east = Math.max(east, lon);
    south = Math.min(south, lat);
    north = Math.max(north, lat);
  };
  for (const [lon, lat] of points) take(lon, lat);
  for (let i = 0; i + 1 < line.length; i += 2) take(line[i] as number, line[i + 1] as number);
  const middle = (south + north) / 2;
  const eastM = parallelRadius(Math.max(-89, Math.min(89, middle))) * DEG;
  const northM = meridianRadius(middle) * DEG;
  const perM = Math.min(
    (WIDE - 2 * EDGE) / Math.max(1, (east - west) * eastM),
    (TALL - 2 * EDGE) / Math.max(1, (north - south) * northM),
  );
  return {
    perM,
    place: (lon: number, lat: number): [number, number] => [
      WIDE / 2 + (lon - (west + east) / 2) * eastM * perM,
      TALL / 2 - (lat - middle) * northM * perM,
    ],
  };
}
