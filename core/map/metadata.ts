import type { Bbox } from "../units/position.ts";
import type { Role } from "./kinds.ts";
import type { PictureType } from "./pictures.ts";

/** A field, and the values that count. */
export interface RoleCondition {
  readonly field: string;
  readonly in: readonly (string | number | boolean)[];
}

/** Which layer of an archive plays a role, and which of its fields say what. */
export interface LayerBinding {
  readonly layer: string;
  /** Only features whose field has one of these values, when the layer holds more than this role. */
  readonly where?: RoleCondition;
  /** Further conditions, each enough by itself: some schemas tell the same thing in one field or another. */
  readonly orWhere?: readonly RoleCondition[];
  /** Field with the feature's name. */
  readonly name?: string;
  /** Field with the elevation (contour, spot height, peak, water) … */
  readonly elevation?: string;
  /** … and the unit it is in. */
  readonly unit?: "m" | "ft";
  /** Field that is true, or 1, on index contours. */
  readonly index?: string;
}

/** A role's layer, and the others that play the role as well. */
export interface RoleBinding extends LayerBinding {
  readonly also?: readonly LayerBinding[];
}

/** All layers of a role, its first one first. */
export const layersOfRole = (binding: RoleBinding): readonly LayerBinding[] => [
  binding,
  ...(binding.also ?? []),
];

/** How roles were found: from our own metadata, by guessing from names, or set by the user. */
export type RolesFrom = "metadata" | "guess" | "user";

/** What an archive says of itself, as far as it says it. */
export interface MapInfo {
  /** Stable identity: our metadata's id, else made from the archive's header. */
  readonly id: string;
  readonly title: string;
  readonly bounds: Bbox;
  readonly minZoom: number;
  readonly maxZoom: number;
  readonly roles: Partial<Record<Role, RoleBinding>>;
  readonly rolesFrom: RolesFrom;
  /** Contour interval as printed on the map. */
  readonly interval: { readonly value: number; readonly unit: "m" | "ft" } | null;
  /** Where the data comes from, in words. */
  readonly source: string | null;
  /** Date of the data, YYYY-MM-DD or YYYY. */
  readonly date: string | null;
  readonly attribution: string | null;
  readonly datum: string | null;
  /** The place does not exist. */
  readonly invented: boolean;
  /** Cell of the elevation model the map was made from, metres. */
  readonly elevationCellM: number | null;
  /** As in `LegwrightMetadata`. */
  readonly dataEdge?: string;
  readonly filled?: string;
  readonly contourLabels?: string;
  /** The archive holds pictures of a map, a scanned sheet, and nothing that figures could be worked out from. */
  readonly pictures?: PictureType;
}

/**
 * The `legwright` member of an archive's metadata JSON, as written by mapmaking and read by map.
 * Fields may be added, never renamed.
 */
export interface LegwrightMetadata {
  readonly version: 1;
  readonly id: string;
  readonly title: string;
  readonly roles: Partial<Record<Role, RoleBinding>>;
  readonly interval: { readonly value: number; readonly unit: "m" | "ft" } | null;
  readonly source: string | null;
  readonly date: string | null;
  readonly attribution: string | null;
  readonly datum: string | null;
  readonly invented: boolean;
  readonly elevationCellM: number | null;
  /** Share of the model's heights that were missing and are made up from those around them; left out when none. */
  readonly filledShare?: number;
  /** Layer with the line at which the elevation model ends; nothing on the ground. */
  readonly dataEdge?: string;
  /** Layer of areas whose heights were missing and are made up from those around them; left out when none. */
  readonly filled?: string;
  /** Layer of points where heights can be written on contours: `ele`, and `angle` of the figures, clockwise from east. */
  readonly contourLabels?: string;
}
