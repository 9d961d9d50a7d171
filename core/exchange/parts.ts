/** What of a walk goes along into another format. */
import type { LonLat } from "../units/position.ts";

export interface TrackPlace {
  readonly lonLat: LonLat;
  /** Metres above the map's datum; null where unknown. */
  readonly heightM: number | null;
}

export interface ExchangeParts {
  /** The points one by one, with their names: waypoints of GPX, places of KML, Points of GeoJSON. A table is nothing else. */
  readonly points: boolean;
  /** The legs: a route of GPX, a line elsewhere. */
  readonly legs: boolean;
  /** The ground along the legs, place by place; null leaves it off. */
  readonly track: readonly TrackPlace[] | null;
  /** Heights of the points, metres above the map's datum, null where there is none; null leaves them all off. */
  readonly heightsM: readonly (number | null)[] | null;
  /** Notes on the walk and its points. */
  readonly notes: boolean;
}

export const USUAL_PARTS: ExchangeParts = {
  points: true,
  legs: true,
  track: null,
  heightsM: null,
  notes: true,
};

/** A height as written, tenths of a metre; empty where there is none. */
export const heightText = (metres: number | null | undefined): string =>
  metres === null || metres === undefined ? "" : metres.toFixed(1);
