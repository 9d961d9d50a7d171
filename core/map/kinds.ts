/** What a thing on the map is, in the words of the leg table's JSON. */
export type Kind =
  | "stream"
  | "river"
  | "water"
  | "shore"
  | "path"
  | "road"
  | "rail"
  | "wall"
  | "fence"
  | "powerLine"
  | "cliff"
  | "wetland"
  | "wood"
  | "woodEdge"
  | "building"
  | "boundary"
  | "restricted"
  /** Ground whose heights were missing and are made up. */
  | "filled"
  | "peak"
  | "spotHeight"
  | "ridge"
  | "valley"
  | "spur"
  | "draw"
  | "saddle"
  | "hill"
  | "depression"
  | "junction"
  | "confluence"
  | "bend"
  | "corner"
  | "place"
  | "steep"
  | "rise"
  | "drop"
  | "contour";

/**
 * What a layer of a map archive holds. Our own archives have one layer a role, named as the role;
 * in other archives roles are guessed from layer and field names.
 */
export const ROLES = [
  "contour",
  "stream",
  "water",
  "path",
  "road",
  "rail",
  "wall",
  "fence",
  "powerLine",
  "cliff",
  "wetland",
  "wood",
  "building",
  "boundary",
  "restricted",
  "spotHeight",
  "peak",
  "name",
  "ridge",
  "valley",
] as const;
export type Role = (typeof ROLES)[number];

/** What a layer is read as: a role, or what its maker says of the heights. */
export type ReadAs = Role | "filled";
