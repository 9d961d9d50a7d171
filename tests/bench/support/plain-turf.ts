/** The searches for handrails, backstop and hazards written plainly with turf: every feature of the map, no index, no frame. */
import * as turf from "@turf/turf";
import { FOLLOWED_KINDS, LEG_LINE_KINDS, STOPPING_KINDS } from "../../../core/legs/line-kinds.ts";
import type { LegSettings } from "../../../core/legs/leg-settings.ts";
import type { AreaFeature, LineFeature } from "../../../core/map/features.ts";
import type { Kind } from "../../../core/map/kinds.ts";
import type { Ground } from "../../../core/terrain/ground.ts";
import { type Bbox, growBbox, type LonLat } from "../../../core/units/position.ts";

export type PlainFeature = GeoJSON.Feature<
  GeoJSON.LineString | GeoJSON.Polygon,
  { readonly kind: Kind; readonly name: string | null }
>;

const pairs = (coords: Float64Array): [number, number][] =>
  Array.from({ length: coords.length >> 1 }, (_, i) => [
    coords[2 * i] as number,
    coords[2 * i + 1] as number,
  ]);

/** Every line and area around a box that aids are looked for among. */
export function plainFeatures({ map }: Ground, box: Bbox): PlainFeature[] {
  const wide = growBbox(box, 600);
  const lines = map
    .lines(wide, LEG_LINE_KINDS)
    .filter(({ coords }) => coords.length >= 4)
    .map(({ kind, name, coords }: LineFeature) => turf.lineString(pairs(coords), { kind, name }));
  const areas = map
    .areas(wide)
    .filter(({ rings }) => rings.every((ring) => ring.length >= 8))
    .map(({ kind, name, rings }: AreaFeature) => turf.polygon(rings.map(pairs), { kind, name }));
  return [...lines, ...areas];
}

const STEP_M = 5;
const CHORD_M = 15;
const RAYS = 181;
const HAZARDS: ReadonlySet<Kind> = new Set<Kind>([
  "cliff",
  "shore",
  "river",
  "stream",
  "rail",
  "road",
  "restricted",
  "water",
  "wetland",
]);
const metres = { units: "meters" } as const;

/** How many handrails, backstops and hazards there are for a leg. */
export function plainSearches(
  features: readonly PlainFeature[],
  from: LonLat,
  to: LonLat,
  settings: Pick<
    LegSettings,
    | "handrailOffsetM"
    | "handrailToleranceDeg"
    | "handrailMinM"
    | "driftDeg"
    | "backstopReachM"
    | "hazardBeyondM"
  >,
): number {
  const leg = turf.lineString([[...from], [...to]]);
  const bearing = turf.bearing([...from], [...to]);
  const lengthM = turf.distance([...from], [...to], metres);
  let handrails = 0;
  let backstops = 0;
  let hazards = 0;
  const isLine = (feature: PlainFeature): feature is typeof feature & GeoJSON.Feature<GeoJSON.LineString> =>
    feature.geometry.type === "LineString";
  for (const feature of features)
    if (isLine(feature) && FOLLOWED_KINDS.has(feature.properties.kind)) {
      const total = turf.length(feature, metres);
      let run = 0;
      for (let d = 0; d <= total; d += STEP_M) {
        const at = turf.along(feature, d, metres);
        const near =
          turf.pointToLineDistance(at, leg, metres) <= settings.handrailOffsetM &&
          isAlongside(feature, d, total, bearing, settings.handrailToleranceDeg);
        run = near ? run + STEP_M : 0;
        if (run >= settings.handrailMinM && run < settings.handrailMinM + STEP_M) handrails++;
      }
    }
  const rays = Array.from({ length: RAYS }, (_, i) => {
    const turn = bearing + ((2 * i) / (RAYS - 1) - 1) * settings.driftDeg;
    const end = (m: number): [number, number] =>
      turf.destination([...from], m, turn, metres).geometry.coordinates as [number, number];
    return turf.lineString([end(lengthM), end(lengthM + settings.backstopReachM)]);
  });
  for (const feature of features)
    if (isLine(feature) && STOPPING_KINDS.has(feature.properties.kind)) {
      let met = 0;
      for (const ray of rays) if (turf.lineIntersect(ray, feature).features.length > 0) met++;
      if (met >= 0.9 * RAYS) backstops = 1;
    }
  const end = (turn: number): [number, number] =>
    turf.destination([...from], lengthM + settings.hazardBeyondM, bearing + turn, metres).geometry
      .coordinates as [number, number];
  const cone = turf.polygon([
    [[...from], end(-settings.driftDeg), end(0), end(settings.driftDeg), [...from]],
  ]);
  for (const feature of features)
    if (HAZARDS.has(feature.properties.kind) && turf.booleanIntersects(feature, cone)) hazards++;
  return handrails + backstops + hazards;
}

function isAlongside(
  line: GeoJSON.Feature<GeoJSON.LineString>,
  d: number,
  total: number,
  bearing: number,
  toleranceDeg: number,
): boolean {
  const a = turf.along(line, Math.max(0, d - CHORD_M), metres);
  const b = turf.along(line, Math.min(total, d + CHORD_M), metres);
  const turn = Math.abs(((turf.bearing(a, b) - bearing) % 180) + 180) % 180;
  return Math.min(turn, 180 - turn) <= toleranceDeg;
}
