/** A map of lines held in memory, and places given in metres about an origin. */
import { legFrame } from "../../../../core/geodesy/leg-frame.ts";
import { direct } from "../../../../core/geodesy/geodesic.ts";
import type { AreaFeature, LineFeature, MapFeatures, PointFeature } from "../../../../core/map/features.ts";
import type { Kind } from "../../../../core/map/kinds.ts";
import type { MapInfo } from "../../../../core/map/metadata.ts";
import type { ElevationModel } from "../../../../core/terrain/elevation.ts";
import type { Ground } from "../../../../core/terrain/ground.ts";
import { trueBearing } from "../../../../core/units/angle.ts";
import { bboxesMeet, bboxOf, type LonLat } from "../../../../core/units/position.ts";

export const ORIGIN: LonLat = [20.45, -34.02];
const north = legFrame(ORIGIN, direct(ORIGIN, trueBearing(0), 1000));

/** A position by metres east and north of the origin. */
export const place = (eastM: number, northM: number): LonLat => north.toLonLat(northM, eastM);
/** Metres east and north of the origin. */
export function metres(position: LonLat): readonly [eastM: number, northM: number] {
  const [n, e] = north.toFrame(position);
  return [e, n];
}

export function lineOf(
  kind: Kind,
  positions: readonly LonLat[],
  name: string | null = null,
  elevationM = NaN,
): LineFeature {
  return {
    kind,
    name,
    elevationM,
    index: false,
    coords: Float64Array.from(positions.flat()),
    attributes: {},
  };
}
/** A line by metres east and north of the origin. */
export const drawn = (
  kind: Kind,
  points: readonly (readonly [number, number])[],
  name: string | null = null,
): LineFeature =>
  lineOf(
    kind,
    points.map(([e, n]) => place(e, n)),
    name,
  );

export const INFO: MapInfo = {
  id: "drawn",
  title: "Drawn for a test",
  bounds: [20, -35, 21, -33],
  minZoom: 8,
  maxZoom: 14,
  roles: { path: { layer: "path" } },
  rolesFrom: "metadata",
  interval: { value: 10, unit: "m" },
  source: null,
  date: null,
  attribution: null,
  datum: null,
  invented: false,
  elevationCellM: null,
};

export interface CountingMap extends MapFeatures {
  readonly calls: { prepare: number; lines: number };
}

export function lineMap(lines: readonly LineFeature[], info: Partial<MapInfo> = {}): CountingMap {
  const calls = { prepare: 0, lines: 0 };
  const boxed = lines.map((line) => ({ line, box: bboxOf(pairs(line.coords)) }));
  return {
    calls,
    info: { ...INFO, ...info },
    prepare: async () => void calls.prepare++,
    isPrepared: () => true,
    lines(bbox, kinds) {
      calls.lines++;
      return boxed
        .filter(({ line, box }) => box && bboxesMeet(box, bbox) && (!kinds || kinds.has(line.kind)))
        .map(({ line }) => line);
    },
    points: (): PointFeature[] => [],
    areas: (): AreaFeature[] => [],
    blind: () => [],
  };
}

export function* pairs(coords: Float64Array): Generator<LonLat> {
  for (let i = 0; i < coords.length; i += 2) yield [coords[i] as number, coords[i + 1] as number];
}

/** Ground whose height is a function of metres east and north of the origin. */
export function hills(height: (eastM: number, northM: number) => number, spacingM = 10): ElevationModel {
  return {
    spacingM: () => spacingM,
    prepare: async () => {},
    isPrepared: () => true,
    at: (position) => height(...metres(position)),
  };
}

export const ground = (
  lines: readonly LineFeature[],
  elevation: ElevationModel | null = null,
  info: Partial<MapInfo> = {},
): Ground => ({
  map: lineMap(lines, info),
  elevation,
});
