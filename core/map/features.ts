import type { Bbox, LonLat } from "../units/position.ts";
import type { Kind } from "./kinds.ts";
import type { MapInfo } from "./metadata.ts";

export type Attributes = Readonly<Record<string, string | number | boolean>>;

/**
 * A line on the map, stitched across tile edges within what was asked for. Edges of areas come as lines too:
 * a wood's as "woodEdge", a lake's as "shore".
 */
export interface LineFeature {
  readonly kind: Kind;
  readonly name: string | null;
  /** Contours: metres above the map's datum. Else NaN. */
  readonly elevationM: number;
  /** Contours: whether this is an index contour. */
  readonly index: boolean;
  /** Longitude, latitude, longitude, latitude … degrees. At least two positions. */
  readonly coords: Float64Array;
  readonly attributes: Attributes;
}

export interface PointFeature {
  readonly kind: Kind;
  readonly name: string | null;
  readonly elevationM: number;
  readonly lonLat: LonLat;
  readonly attributes: Attributes;
}

/** An area clipped to the tiles it came from: the same wood may come in several pieces. */
export interface AreaFeature {
  readonly kind: Kind;
  readonly name: string | null;
  readonly elevationM: number;
  /** Rings as MVT 2.1 winds them; each longitude, latitude … degrees, first position repeated at the end. */
  readonly rings: readonly Float64Array[];
  readonly attributes: Attributes;
}

/** Part of a query that the map cannot answer. */
export interface Blind {
  readonly bbox: Bbox;
  readonly reason: "outside" | "missing" | "damaged";
}

/**
 * Features of one map. Reading tiles is asynchronous (`prepare`); asking for features of a prepared box is not,
 * so that a leg can be worked out within one frame while its point is dragged.
 */
export interface MapFeatures {
  readonly info: MapInfo;
  /** Reads and decodes the tiles a box needs; cheap when they are cached. Damaged tiles do not throw: see `blind`. */
  prepare(bbox: Bbox, signal?: AbortSignal): Promise<void>;
  /** Whether `lines`, `points` and `areas` can answer for this box now. */
  isPrepared(bbox: Bbox): boolean;
  /**
   * Lines near the box, each once, clipped to no more than the tiles the box touches: every line that meets the box, and
   * some that only pass by (a line is taken when the bounding box of any sixteen of its segments meets the box).
   * @throws Fault "internal" when the box was not prepared
   */
  lines(bbox: Bbox, kinds?: ReadonlySet<Kind>): readonly LineFeature[];
  points(bbox: Bbox, kinds?: ReadonlySet<Kind>): readonly PointFeature[];
  areas(bbox: Bbox, kinds?: ReadonlySet<Kind>): readonly AreaFeature[];
  /** Tiles within the box that the archive does not have or that could not be read. */
  blind(bbox: Bbox): readonly Blind[];
}
