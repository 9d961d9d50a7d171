/** The table of layers and roles as a person edits it: a row for each use of a layer. Pure: no window, no host. */
import type { SeenLayer } from "../../core/map/archive-facts.ts";
import { ROLES, type Role } from "../../core/map/kinds.ts";
import {
  type LayerBinding,
  layersOfRole,
  type RoleBinding,
  type RoleCondition,
} from "../../core/map/metadata.ts";
import type { Roles } from "../../core/map/set-roles.ts";

export interface RoleRow {
  readonly layer: string;
  /** Null: the layer is not used. */
  readonly role: Role | null;
  readonly name: string | null;
  readonly elevation: string | null;
  readonly unit: "m" | "ft";
  readonly index: string | null;
  /** Each is enough; none takes all features. Values as typed, apart by commas. */
  readonly conditions: readonly { readonly field: string; readonly values: string }[];
}

const unused = (layer: string): RoleRow => ({
  layer,
  role: null,
  name: null,
  elevation: null,
  unit: "m",
  index: null,
  conditions: [],
});

/** A row for each use of a layer, layers in the archive's order; uses of layers it has not come last. */
export function rowsOf(roles: Roles, layers: readonly Pick<SeenLayer, "name">[]): RoleRow[] {
  const uses = ROLES.flatMap((role) => {
    const binding = roles[role];
    return binding ? layersOfRole(binding).map((one) => rowOf(role, one)) : [];
  });
  const names = layers.map(({ name }) => name);
  return [
    ...names.flatMap((name) => {
      const ofLayer = uses.filter(({ layer }) => layer === name);
      return ofLayer.length > 0 ? ofLayer : [unused(name)];
    }),
    ...uses.filter(({ layer }) => !names.includes(layer)),
  ];
}

function rowOf(role: Role, one: LayerBinding): RoleRow {
  const conditions = [...(one.where ? [one.where] : []), ...(one.orWhere ?? [])];
  return {
    layer: one.layer,
    role,
    name: one.name ?? null,
    elevation: one.elevation ?? null,
    unit: one.unit ?? "m",
    index: one.index ?? null,
    conditions: conditions.map(({ field, in: values }) => ({
      field,
      values: [...new Set(values.map(String))].join(", "),
    })),
  };
}

/** The roles of the rows; the first row of a role is its first layer. */
export function rolesOfRows(rows: readonly RoleRow[]): Roles {
  const roles: Partial<Record<Role, RoleBinding>> = {};
  for (const role of ROLES) {
    const [first, ...also] = rows.filter((row) => row.role === role).map(bindingOf);
    if (first) roles[role] = also.length > 0 ? { ...first, also } : first;
  }
  return roles;
}

function bindingOf({ layer, name, elevation, unit, index, conditions }: RoleRow): LayerBinding {
  const [where, ...orWhere] = conditions.map(conditionOf);
  return {
    layer,
    ...(where && { where }),
    ...(orWhere.length > 0 && { orWhere }),
    ...(name !== null && { name }),
    ...(elevation !== null && { elevation, unit }),
    ...(index !== null && { index }),
  };
}

/** Tiles keep the type of a value and a typed word has none: what looks like a number, or true, counts as both. */
function conditionOf({ field, values }: RoleRow["conditions"][number]): RoleCondition {
  const words = [...new Set(values.split(",").map((word) => word.trim()))].filter((word) => word !== "");
  return {
    field,
    in: words.flatMap((word): (string | number | boolean)[] => {
      if (word === "true" || word === "false") return [word, word === "true"];
      return Number.isFinite(Number(word)) ? [word, Number(word)] : [word];
    }),
  };
}
