/** Roles that a person set for an archive: whether they can be, and whether they still fit it. */
import type { ArchiveFacts, SeenLayer } from "./archive-facts.ts";
import { ROLES, type Role } from "./kinds.ts";
import { parseRoles } from "./map-info.ts";
import { type LayerBinding, layersOfRole, type MapInfo, type RoleBinding } from "./metadata.ts";

export type Roles = MapInfo["roles"];

/** What is remembered of roles set for an archive. */
export interface RememberedRoles {
  /** Of the archive, by its `MapInfo`; several may have the same. */
  readonly id: string;
  readonly fingerprint: string;
  /** All layers it had then. */
  readonly layers: readonly string[];
  readonly roles: Roles;
}

export interface RoleProblem {
  readonly role: Role;
  readonly layer: string;
  /** A plain sentence. */
  readonly what: string;
}

const ROLE_NAMES: Partial<Record<Role, string>> = {
  powerLine: "power lines",
  spotHeight: "spot heights",
  contour: "contours",
};

/**
 * What cannot be in some roles, on an archive with these layers.
 * A field that no tile looked at had is no problem: it may be there elsewhere, and archives list fields rarely seen.
 */
export function roleProblems(roles: Roles, layers: readonly Pick<SeenLayer, "name">[]): RoleProblem[] {
  const problems: RoleProblem[] = [];
  for (const role of ROLES) {
    const binding = roles[role];
    if (!binding) continue;
    const named = new Set<string>();
    for (const one of layersOfRole(binding)) {
      const tell = (what: string): void => void problems.push({ role, layer: one.layer, what });
      if (!layers.some(({ name }) => name === one.layer)) tell(`The map has no layer “${one.layer}”.`);
      if (role === "contour" && one.elevation === undefined)
        tell("Contours need a field with their elevation: without one no height can be told.");
      if ([one.where, ...(one.orWhere ?? [])].some((condition) => condition && condition.in.length === 0))
        tell(`A condition on “${one.layer}” has no values: nothing would be ${ROLE_NAMES[role] ?? "taken"}.`);
      const key = JSON.stringify([one.layer, one.where, one.orWhere]);
      if (named.has(key)) tell(`The layer “${one.layer}” is named twice.`);
      named.add(key);
    }
  }
  return problems;
}

/** Roles as they came from a file or over a bridge; null when they are none. An object without a role says: no roles. */
export const rolesOf = (value: unknown): Roles | null =>
  typeof value === "object" && value !== null && !Array.isArray(value) ? (parseRoles(value) ?? {}) : null;

export interface SettledRoles {
  /** Null: as the archive says, or as guessed. */
  readonly roles: Roles | null;
  /** What a person should know, in sentences. */
  readonly notices: readonly string[];
}

/** With fewer of the remembered layers than this it is another archive that happens to have the same id. No source. */
const SAME_ARCHIVE_SHARE = 0.5;

/**
 * The remembered roles that hold for an archive. The very archive gets them as they are; one of the same id that is not
 * the same gets those whose layers it has, never silently; one with mostly other layers gets none.
 */
export function settleRoles(memory: readonly RememberedRoles[], facts: ArchiveFacts): SettledRoles {
  const ofId = memory.filter(({ id }) => id === facts.id);
  const same = ofId.find(({ fingerprint }) => fingerprint === facts.fingerprint);
  const found = same ?? ofId.at(-1);
  if (!found) return { roles: null, notices: [] };
  const there = new Set(facts.layers.map(({ name }) => name));
  const kept = found.layers.filter((name) => there.has(name)).length;
  if (!same && kept < found.layers.length * SAME_ARCHIVE_SHARE)
    return {
      roles: null,
      notices: [
        "Roles were set by hand for another map of the same id. They were not taken over: this map has other layers.",
      ],
    };
  const { roles, dropped } = withLayers(found.roles, there);
  const notices = [
    ...(same
      ? []
      : [
          "This map is not quite the one its roles were set for by hand: they were taken over, look whether they still fit.",
        ]),
    ...(dropped.length > 0
      ? [
          `Roles set by hand were dropped, as their layers are not there any more: ${[...new Set(dropped)].join(", ")}.`,
        ]
      : []),
  ];
  return { roles, notices };
}

function withLayers(roles: Roles, there: ReadonlySet<string>): { roles: Roles; dropped: string[] } {
  const left: Partial<Record<Role, RoleBinding>> = {};
  const dropped: string[] = [];
  for (const role of ROLES) {
    const binding = roles[role];
    if (!binding) continue;
    const { also: _also, ...own } = binding;
    const parts: LayerBinding[] = [own, ...(binding.also ?? [])];
    dropped.push(...parts.filter(({ layer }) => !there.has(layer)).map(({ layer }) => layer));
    const [first, ...also] = parts.filter(({ layer }) => there.has(layer));
    if (first) left[role] = also.length > 0 ? { ...first, also } : first;
  }
  return { roles: left, dropped };
}
