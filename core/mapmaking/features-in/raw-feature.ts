/** Features as the readers of files give them, before rules say what they are on the map. */

export { put } from "../../files/put.ts";

export type Tags = Readonly<Record<string, string | number | boolean>>;

/** Positions are longitude, latitude, longitude, latitude … in degrees WGS 84; rings repeat their first position. */
export type Shape =
  | { readonly type: "point"; readonly coords: Float64Array }
  | { readonly type: "line"; readonly coords: Float64Array }
  /** A closed line that may be meant as a line or as the area inside: its tags decide. */
  | { readonly type: "closed"; readonly coords: Float64Array }
  /** Polygons, each an outer ring and its holes, wound in any direction. */
  | { readonly type: "area"; readonly polygons: readonly (readonly Float64Array[])[] };

export interface RawFeature {
  /** For messages: "way 123", "record 5", "line 12". */
  readonly where: string;
  readonly tags: Tags;
  readonly shape: Shape;
}

/** What went by without becoming a feature. */
export interface Passed {
  /** Without a geometry, or with an empty one. */
  noShape: number;
  /** Parts that are not in the file: nodes of a way, ways of a relation, rings that do not close. */
  incomplete: number;
  /** Kinds of geometry that mean nothing on a map of this kind. */
  unknownShape: number;
}
export const nothingPassed = (): Passed => ({ noShape: 0, incomplete: 0, unknownShape: 0 });

export type Emit = (feature: RawFeature) => void;
