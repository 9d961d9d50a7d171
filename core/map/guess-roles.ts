/**
 * Roles guessed from the names of layers and fields, for archives that do not say. The names are those in common use
 * by open vector tile schemas made from OpenStreetMap data, and by tiles made straight from a GIS; the values are
 * OpenStreetMap's. A guess can be wrong: it is shown as one, and a person can change it.
 */
import type { Role } from "./kinds.ts";
import type { LayerBinding, RoleBinding, RoleCondition } from "./metadata.ts";

/** A layer as far as it is known before its roles are. */
export interface LayerFields {
  readonly name: string;
  readonly fields: readonly string[];
  /** How many features the tiles looked at have. */
  readonly features?: number;
  /** By field and value, how many features of a few tiles had it. */
  readonly seen?: ReadonlyMap<string, ReadonlyMap<string, number>>;
}

interface Rule {
  /** A layer of this name holds nothing else. */
  readonly alone: RegExp;
  /** A layer of this name holds it among others … */
  readonly among?: RegExp;
  /** … told apart by these values, in any field that classifies (or in this one only). */
  readonly values?: readonly string[];
  readonly field?: string;
}

const STREETS = /^(transportation|roads?|streets?|highways?|ways?|lines?)$/;
const COVER = /^(land_?cover|land_?use|land|natural|nature|vegetation|green)$/;
const LINEWORK = /^(barriers?|physical_lines?|land_?lines?|lines?|landforms?)$/;

const RULES: readonly (readonly [Role, Rule])[] = [
  ["contour", { alone: /(^|_)(contours?|isolines?|isohypses?|contour_?lines?)($|_)/ }],
  [
    "stream",
    {
      alone: /^(water_?ways?|water_?lines?|rivers?|streams?|water_?courses?|hydro_?lines?)$/,
      among: /^(physical_lines?|water|natural|lines?)$/,
      values: ["river", "stream", "canal", "drain", "ditch", "creek", "brook", "tidal_channel"],
    },
  ],
  [
    "water",
    { alone: /^(water|lakes?|water_?polygons?|water_?areas?|hydro_?(areas?|polygons?)|water_?bod(y|ies))$/ },
  ],
  [
    "path",
    {
      alone: /^(paths?|trails?|tracks?|foot_?ways?)$/,
      among: STREETS,
      values: ["path", "track", "footway", "bridleway", "cycleway", "steps", "pedestrian", "trail"],
    },
  ],
  [
    "road",
    {
      alone: /^(roads?|streets?|highways?)$/,
      among: STREETS,
      values: [
        "motorway",
        "trunk",
        "primary",
        "secondary",
        "tertiary",
        "unclassified",
        "residential",
        "living_street",
        "service",
        "minor",
        "motorway_link",
        "trunk_link",
        "primary_link",
        "secondary_link",
        "tertiary_link",
        "road",
        "highway",
        "major_road",
        "medium_road",
        "minor_road",
      ],
    },
  ],
  [
    "rail",
    {
      alone: /^(rails?|rail_?ways?|rail_?roads?)$/,
      among: /^(transportation|roads?|streets?|transit|lines?)$/,
      values: ["rail", "narrow_gauge", "light_rail", "tram", "subway", "funicular", "railway"],
    },
  ],
  [
    "wall",
    { alone: /^walls?$/, among: LINEWORK, values: ["wall", "city_wall", "retaining_wall", "dry_stone"] },
  ],
  ["fence", { alone: /^fences?$/, among: LINEWORK, values: ["fence", "hedge"] }],
  [
    "powerLine",
    {
      alone: /^power_?lines?$/,
      among: /^(power|lines?|physical_lines?)$/,
      values: ["line", "minor_line"],
      field: "power",
    },
  ],
  [
    "cliff",
    {
      alone: /^cliffs?(_?lines?)?$/,
      among: /^(physical_lines?|natural|land_?forms?|lines?|mountain_?peaks?)$/,
      values: ["cliff"],
    },
  ],
  [
    "wetland",
    {
      alone: /^wet_?lands?$/,
      among: COVER,
      values: ["wetland", "swamp", "marsh", "bog", "fen", "mud", "reedbed", "tidalflat"],
    },
  ],
  ["wood", { alone: /^(woods?|forests?|woodlands?)$/, among: COVER, values: ["wood", "forest", "woodland"] }],
  ["building", { alone: /^buildings?$/ }],
  ["boundary", { alone: /^(boundar(y|ies)|borders?|admin)$/ }],
  [
    "restricted",
    { alone: /^(restricted|military)(_?areas?)?$/, among: COVER, values: ["military", "danger_area"] },
  ],
  ["spotHeight", { alone: /^(spot_?heights?|spot_?elevations?|elevation_?points?)$/ }],
  [
    "peak",
    {
      alone: /^(peaks?|summits?)$/,
      among: /^(mountain_?peaks?|physical_points?|pois?|natural)$/,
      values: ["peak", "volcano", "hill"],
    },
  ],
  ["name", { alone: /^(places?|place_?(names?|labels?)|bridges?|bridge_?(points?|names?|labels?))$/ }],
];

/** Fields that say what a feature is. */
const CLASSIFYING = [
  "class",
  "subclass",
  "kind",
  "kind_detail",
  "pmap:kind",
  "type",
  "highway",
  "waterway",
  "railway",
  "natural",
  "landuse",
  "landcover",
  "barrier",
  "power",
  "wetland",
  "fclass",
];
const NAMES = ["name", "name:latin", "name_int", "name:en", "name_en", "Name", "NAME"];
const ELEVATIONS = [
  "ele",
  "elevation",
  "elev",
  "ele_m",
  "elevation_m",
  "height",
  "altitude",
  "level",
  "contour",
  "ELEV",
  "CONTOUR",
  "ele_ft",
  "elevation_ft",
  "elev_ft",
  "height_ft",
];
const INDEXES = ["index", "is_index", "idx", "major"];
const WITH_ELEVATION: ReadonlySet<Role> = new Set<Role>(["contour", "spotHeight", "peak", "water"]);

/**
 * Bindings for the roles that some layer seems to play. Where several do, all of them: first those that hold nothing
 * else, then those with most such features among those seen. A layer that holds nothing but another role is asked only
 * when there is no other. Contours without a field for elevation are no use: left out.
 */
export function guessRoles(layers: readonly LayerFields[]): Partial<Record<Role, RoleBinding>> {
  const roles: Partial<Record<Role, RoleBinding>> = {};
  for (const [role, rule] of RULES) {
    const parts = layers
      .map((layer) => ({ binding: part(role, rule, layer), seen: seenOf(rule, layer) }))
      .filter((p) => p.binding);
    parts.sort((a, b) => b.seen - a.seen);
    const wholes = layers.map((layer) => whole(role, rule, layer));
    const [first, ...others] = [...wholes, ...parts.map(({ binding }) => binding)]
      .filter((binding) => binding !== null)
      .filter(({ elevation }) => role !== "contour" || elevation !== undefined);
    const also = others.filter(
      ({ layer }) =>
        !isAnothers(
          role,
          layers.find(({ name }) => name === layer),
        ),
    );
    if (first) roles[role] = also.length > 0 ? { ...first, also } : first;
  }
  return roles;
}

const isAnothers = (role: Role, layer: LayerFields | undefined): boolean =>
  layer !== undefined && RULES.some(([other, rule]) => other !== role && whole(other, rule, layer) !== null);

/** How many features of a layer were seen that have one of the rule's values. */
function seenOf(rule: Rule, layer: LayerFields): number {
  let count = 0;
  for (const { field, in: values } of conditions(rule, layer))
    for (const value of values) count += layer.seen?.get(field)?.get(String(value)) ?? 0;
  return count;
}

function whole(role: Role, rule: Rule, layer: LayerFields): LayerBinding | null {
  if (!rule.alone.test(layer.name.toLowerCase())) return null;
  // A layer that may hold more, and says what each feature is, is asked for the values.
  return rule.among?.test(layer.name.toLowerCase()) && conditions(rule, layer).length > 0
    ? null
    : withFields(role, layer, []);
}

function part(role: Role, rule: Rule, layer: LayerFields): LayerBinding | null {
  if (!rule.among?.test(layer.name.toLowerCase())) return null;
  const found = conditions(rule, layer);
  return found.length > 0 ? withFields(role, layer, found) : null;
}

function conditions(rule: Rule, layer: LayerFields): RoleCondition[] {
  const { values } = rule;
  if (!values) return [];
  const fields = rule.field === undefined ? CLASSIFYING : [rule.field];
  return fields.filter((field) => layer.fields.includes(field)).map((field) => ({ field, in: values }));
}

function withFields(role: Role, layer: LayerFields, found: readonly RoleCondition[]): LayerBinding {
  const first = (candidates: readonly string[]): string | undefined =>
    candidates.find((field) => layer.fields.includes(field));
  const name = first(NAMES);
  const elevation = WITH_ELEVATION.has(role) ? first(ELEVATIONS) : undefined;
  const index = role === "contour" ? first(INDEXES) : undefined;
  const [where, ...orWhere] = found;
  return {
    layer: layer.name,
    ...(where && { where }),
    ...(orWhere.length > 0 && { orWhere }),
    ...(name !== undefined && { name }),
    ...(elevation !== undefined && { elevation, unit: /ft$/i.test(elevation) ? "ft" : "m" }),
    ...(index !== undefined && { index }),
  };
}
