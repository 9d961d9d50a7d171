/** A small picture of what comes in, on the open map: the line of the file, and the legs that are left of it. */
import { useEffect, useState } from "preact/hooks";
import { parallelRadius } from "../../core/geodesy/ellipsoid.ts";
import { DEG } from "../../core/units/angle.ts";
import { type Bbox, bboxOf, type LonLat } from "../../core/units/position.ts";
import { pointLabel, type Walk } from "../../core/walk/walk.ts";
import { lengthUnit } from "../app/settings.ts";
import { exchangeWords } from "../words/exchange-words.ts";
import { frameAround, groundPicture, placeIn, type PictureFrame } from "../map-case/ground-picture.ts";
import { shownMap } from "../map-case/map-case.ts";
import { theme } from "../theme/theme.ts";
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
  const box = boxOf(points, line);
  const frame = frameAround(box, { width: WIDE, height: TALL, margin: EDGE });
  const ground = useGround(frame);
  const place = (lon: number, lat: number): [number, number] => placeIn(frame, lon, lat);
  // Pixels to a metre, in the middle.
  const perM = frame.scale / 360 / (parallelRadius((box[1] + box[3]) / 2) * DEG);
  const path = (xy: readonly (readonly [number, number])[]): string =>
    xy.map(([x, y], i) => `${i === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`).join("");
  const legs = points.map(([lon, lat]) => place(lon, lat));
  const track: [number, number][] = [];
  for (let i = 0; i + 1 < line.length; i += 2) track.push(place(line[i] as number, line[i + 1] as number));
  const marked = legs.length > MOST_DOTS ? [legs[0], legs.at(-1)] : legs;
  const bar = scaleLength(WIDE / 3 / perM, lengthUnit.value);
  const [start] = legs;
  return (
    <svg
      class="line-picture"
      viewBox={`0 0 ${WIDE} ${TALL}`}
      role="img"
      aria-label={say.picture(Math.max(0, points.length - 1), pointLabel(walk, 0))}
      data-test="line-picture"
    >
      {ground && <image href={ground} width={WIDE} height={TALL} data-test="picture-ground" />}
      {track.length > 1 && <path class="picture-track" d={path(track)} />}
      <path class="picture-legs" d={path(legs)} />
      {marked.map((at, i) => at && <circle key={i} class="picture-dot" cx={at[0]} cy={at[1]} r={2.5} />)}
      {start && <circle class="picture-start" cx={start[0]} cy={start[1]} r={6} />}
      <g class="picture-scale" transform={`translate(${EDGE / 2} ${TALL - 8})`}>
        <path d={`M0 -4V0H${(bar * perM).toFixed(1)}V-4`} />
        <text x={bar * perM + 6} y={0}>
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

/** The open map where the picture lies, so that one sees where the line runs; null while it is drawn, and off the map. */
function useGround(frame: PictureFrame): string | null {
  const [url, setUrl] = useState<string | null>(null);
  const entry = shownMap.value?.entry ?? null;
  const colours = theme.value;
  useEffect(() => {
    let wanted = true;
    let drawn: string | null = null;
    setUrl(null);
    const drawing = entry ? groundPicture(entry, () => frame) : Promise.resolve(null);
    void drawing
      .catch(() => null)
      .then((found) => {
        drawn = found;
        if (wanted) setUrl(found);
        else if (found) URL.revokeObjectURL(found);
      });
    return () => {
      wanted = false;
      if (drawn) URL.revokeObjectURL(drawn);
    };
  }, [entry?.id, entry?.tag, colours, frame.left, frame.top, frame.scale]);
  return url;
}

/** Around the points and the line. */
function boxOf(points: readonly LonLat[], line: Float64Array): Bbox {
  const ofLine: LonLat[] = Array.from({ length: line.length / 2 }, (_, i) => [
    line[2 * i]!,
    line[2 * i + 1]!,
  ]);
  return bboxOf([...points, ...ofLine]) ?? [0, 0, 0, 0];
}
