/** What on the map a point is meant for that is put down near it: a place that can be found again, else a line to stand on. */
import { direct } from "../../geodesy/geodesic.ts";
import { legFrame } from "../../geodesy/leg-frame.ts";
import type { Kind } from "../../map/kinds.ts";
import type { Ground } from "../../terrain/ground.ts";
import { trueBearing } from "../../units/angle.ts";
import { growBbox, type LonLat } from "../../units/position.ts";
import { kindAndName, LEG_LINE_KINDS } from "../line-kinds.ts";
import { candidatesNear } from "./attack-points-candidates.ts";
import { frameLines, nearestOn } from "./framed-line.ts";
import { apartM, pointAt } from "./framed-geometry.ts";

export interface SnapPlace {
  readonly lonLat: LonLat;
  readonly kind: Kind;
  /** With its article: "the junction of two paths", "the path". */
  readonly words: string;
  /** It lies on a line that goes on both ways, and not at a place of its own. */
  readonly onLine: boolean;
}

/** Less surely known when one stands there, a place draws no point to it. No source. */
const LEAST_DISTINCT = 0.5;
/** A line draws from this share of the distance from which a place does: places lie on lines, and are meant more often. */
const LINE_SHARE = 0.6;
/** Lines are read so far beyond the reach, metres: what they make at its edge is then seen as it is. */
const AROUND_M = 60;

const POINT_KINDS: ReadonlySet<Kind> = new Set<Kind>(["peak", "building"]);
const AREA_KINDS: ReadonlySet<Kind> = new Set<Kind>(["building", "water"]);
const STOOD_ON: ReadonlySet<Kind> = new Set<Kind>([
  "path",
  "road",
  "stream",
  "river",
  "shore",
  "wall",
  "fence",
  "powerLine",
  "woodEdge",
]);

/**
 * The nearest place within reach: junction, confluence, bridge or ford, gate, sharp bend, corner, summit, building; with none
 * the nearest line, from nearer.
 * @param reachM 0 to some hundreds of metres
 * @returns null where nothing is near
 * @throws Fault "cancelled"
 */
export async function snapPlace(
  { map }: Pick<Ground, "map">,
  at: LonLat,
  reachM: number,
  signal?: AbortSignal,
): Promise<SnapPlace | null> {
  const box = growBbox([at[0], at[1], at[0], at[1]], reachM + AROUND_M);
  await map.prepare(box, signal);
  // Along north, with the place at its beginning.
  const frame = legFrame(at, direct(at, trueBearing(0), Math.max(1, reachM)));
  const here = { s: 0, t: 0 };
  const lines = frameLines(frame, map.lines(box, LEG_LINE_KINDS));
  const place = candidatesNear(
    { frame, lines, points: map.points(box, POINT_KINDS), areas: map.areas(box, AREA_KINDS) },
    here,
    reachM,
  )
    .filter(({ distinct }) => distinct >= LEAST_DISTINCT)
    .reduce<ReturnType<typeof candidatesNear>[number] | null>(
      (best, next) => (best && apartM(best, here) <= apartM(next, here) ? best : next),
      null,
    );
  if (place)
    return {
      lonLat: frame.toLonLat(place.s, place.t),
      kind: place.kind,
      words: place.words,
      onLine: false,
    };

  let nearest: { readonly offM: number; readonly found: SnapPlace } | null = null;
  for (const framed of lines) {
    const { kind, name } = framed.line;
    if (!STOOD_ON.has(kind)) continue;
    const { place: on, offM } = nearestOn(framed, 0, 0);
    if (offM > LINE_SHARE * reachM || (nearest && nearest.offM <= offM)) continue;
    const { s, t } = pointAt(framed, on);
    nearest = {
      offM,
      found: {
        lonLat: frame.toLonLat(s, t),
        kind,
        words: name ? kindAndName(kind, name) : `the ${kindAndName(kind, name)}`,
        onLine: true,
      },
    };
  }
  return nearest?.found ?? null;
}
