/**
 * The built-in rules: OpenStreetMap's tags, as its wiki page "Map features" documents them. What a role of the map
 * means decides; what is on the ground but has no role (a car park, a shop) is left unmapped, and counted.
 */
import type { Rule } from "./rule-schema.ts";

const NOT_ON_THE_GROUND = ["construction", "proposed", "abandoned", "razed", "dismantled", "planned", "no"];
/** Nobody may go there, whoever else may. */
const CLOSED = ["private", "no", "military"];

export const OSM_RULES: readonly Rule[] = [
  // What is not there, or not any more.
  { when: { highway: NOT_ON_THE_GROUND }, role: null },
  { when: { railway: [...NOT_ON_THE_GROUND, "disused"], highway: null }, role: null },
  { when: { demolished: "yes" }, role: null },

  // Streams by size.
  { when: { waterway: ["river", "canal"] }, geometry: "line", role: "stream", minZoom: 8 },
  {
    when: { waterway: ["stream", "tidal_channel", "fairway"] },
    geometry: "line",
    role: "stream",
    minZoom: 11,
  },
  {
    when: { waterway: ["brook", "creek", "wadi"] },
    geometry: "line",
    role: "stream",
    class: "stream",
    minZoom: 11,
  },
  { when: { waterway: ["ditch", "drain"] }, geometry: "line", role: "stream", minZoom: 13 },

  // Standing water, and the surface of rivers.
  {
    when: { natural: "water", water: "*" },
    geometry: "area",
    role: "water",
    class: "$water",
    label: "lake",
    minZoom: 8,
  },
  { when: { natural: "water" }, geometry: "area", role: "water", class: "lake", label: "lake", minZoom: 8 },
  { when: { waterway: "riverbank" }, geometry: "area", role: "water", class: "river", minZoom: 8 },
  { when: { landuse: ["reservoir", "basin"] }, geometry: "area", role: "water", label: "lake", minZoom: 9 },
  { when: { natural: "coastline" }, geometry: "line", role: "water", class: "coastline", minZoom: 8 },
  { when: { natural: "bay" }, geometry: "area", role: "water", class: "bay", label: "bay", minZoom: 8 },

  // Paths: how well they are seen on the ground decides when they come onto the map.
  {
    when: { highway: ["path", "footway", "bridleway", "steps"], trail_visibility: ["bad", "horrible", "no"] },
    geometry: "line",
    role: "path",
    minZoom: 13,
  },
  {
    when: { highway: "footway", footway: ["sidewalk", "crossing", "access_aisle"] },
    geometry: "line",
    role: "path",
    minZoom: 14,
  },
  { when: { highway: "track" }, geometry: "line", role: "path", minZoom: 11 },
  {
    when: { highway: ["path", "bridleway", "cycleway", "via_ferrata"] },
    geometry: "line",
    role: "path",
    minZoom: 11,
  },
  {
    when: { highway: ["footway", "steps", "pedestrian", "corridor"] },
    geometry: "line",
    role: "path",
    minZoom: 12,
  },
  { when: { gpx: ["track", "route"] }, geometry: "line", role: "path", class: "path", minZoom: 10 },

  // Roads by class.
  { when: { highway: ["motorway", "trunk"] }, geometry: "line", role: "road", minZoom: 8 },
  {
    when: { highway: ["primary", "motorway_link", "trunk_link"] },
    geometry: "line",
    role: "road",
    minZoom: 9,
  },
  { when: { highway: ["secondary", "primary_link"] }, geometry: "line", role: "road", minZoom: 10 },
  {
    when: { highway: ["tertiary", "secondary_link", "tertiary_link"] },
    geometry: "line",
    role: "road",
    minZoom: 11,
  },
  {
    when: { highway: ["unclassified", "residential", "living_street", "road"] },
    geometry: "line",
    role: "road",
    minZoom: 12,
  },
  // A private drive is too short and too easily crossed unnoticed: told apart by its class.
  {
    when: { highway: "service", service: ["driveway", "alley", "parking_aisle", "drive-through"] },
    geometry: "line",
    role: "road",
    class: "$service",
    minZoom: 14,
  },
  {
    when: { highway: ["service", "busway", "bus_guideway", "escape", "raceway"] },
    geometry: "line",
    role: "road",
    minZoom: 13,
  },

  {
    when: {
      railway: ["rail", "narrow_gauge", "light_rail", "tram", "subway", "funicular", "monorail", "preserved"],
    },
    geometry: "line",
    role: "rail",
    minZoom: 9,
  },

  {
    when: { barrier: "wall", wall: ["dry_stone", "stone"] },
    geometry: "line",
    role: "wall",
    class: "stone",
    minZoom: 13,
  },
  { when: { barrier: ["wall", "city_wall", "retaining_wall"] }, geometry: "line", role: "wall", minZoom: 13 },
  {
    when: { barrier: ["fence", "hedge", "wire_fence", "guard_rail"] },
    geometry: "line",
    role: "fence",
    minZoom: 13,
  },
  { when: { power: ["line", "minor_line"] }, geometry: "line", role: "powerLine", minZoom: 11 },

  { when: { natural: ["cliff", "earth_bank"] }, geometry: ["line", "area"], role: "cliff", minZoom: 12 },
  { when: { natural: ["ridge", "arete"] }, geometry: "line", role: "ridge", label: "ridge", minZoom: 12 },
  { when: { natural: "valley" }, geometry: "line", role: "valley", label: "valley", minZoom: 12 },
  { when: { natural: "valley" }, geometry: ["point", "area"], role: "name", class: "valley", minZoom: 11 },

  { when: { natural: "wood" }, geometry: "area", role: "wood", label: "wood", minZoom: 8 },
  { when: { landuse: "forest" }, geometry: "area", role: "wood", label: "forest", minZoom: 8 },
  {
    when: { natural: "wetland", wetland: "*" },
    geometry: "area",
    role: "wetland",
    class: "$wetland",
    label: "wetland",
    minZoom: 10,
  },
  { when: { natural: ["wetland", "mud"] }, geometry: "area", role: "wetland", label: "wetland", minZoom: 10 },

  { when: { building: "*" }, geometry: ["area", "point"], role: "building", minZoom: 13 },
  { when: { tourism: ["alpine_hut", "wilderness_hut"] }, geometry: "point", role: "building", minZoom: 11 },
  {
    when: { tourism: ["alpine_hut", "wilderness_hut"], name: "*" },
    geometry: ["point", "area"],
    role: "name",
    class: "house",
    minZoom: 11,
  },
  { when: { amenity: "shelter" }, geometry: "point", role: "building", minZoom: 13 },

  // Where one may not go. A reserve is open ground unless it says otherwise; only the strictest kind is closed.
  {
    when: { landuse: "military" },
    geometry: "area",
    role: "restricted",
    class: "military",
    label: "area",
    minZoom: 9,
  },
  {
    when: {
      military: [
        "danger_area",
        "range",
        "training_area",
        "base",
        "airfield",
        "naval_base",
        "nuclear_explosion_site",
      ],
    },
    geometry: "area",
    role: "restricted",
    label: "area",
    minZoom: 9,
  },
  {
    when: { boundary: "hazard" },
    geometry: "area",
    role: "restricted",
    class: "hazard",
    label: "area",
    minZoom: 10,
  },
  {
    when: { hazard: ["minefield", "shooting_range", "unexploded_ordnance"] },
    geometry: "area",
    role: "restricted",
    minZoom: 10,
  },
  {
    when: { boundary: ["protected_area", "national_park"], access: CLOSED },
    geometry: "area",
    role: "restricted",
    class: "reserve",
    label: "area",
    minZoom: 9,
  },
  {
    when: { leisure: "nature_reserve", access: CLOSED },
    geometry: "area",
    role: "restricted",
    class: "reserve",
    label: "area",
    minZoom: 9,
  },
  {
    when: { boundary: "protected_area", protect_class: ["1", "1a"] },
    geometry: "area",
    role: "restricted",
    class: "strict_reserve",
    label: "area",
    minZoom: 9,
  },
  {
    when: { landuse: "*", access: CLOSED },
    geometry: "area",
    role: "restricted",
    class: "private",
    minZoom: 12,
  },
  {
    when: { natural: "*", access: CLOSED },
    geometry: "area",
    role: "restricted",
    class: "private",
    minZoom: 12,
  },

  {
    when: { boundary: "administrative", admin_level: { below: 9 } },
    geometry: "line",
    role: "boundary",
    minZoom: 9,
  },
  {
    when: { boundary: "administrative", admin_level: { below: 9 } },
    geometry: "area",
    role: "boundary",
    minZoom: 9,
  },
  { when: { boundary: "administrative", admin_level: null }, role: "boundary", minZoom: 10 },
  {
    when: { boundary: ["national_park", "protected_area"] },
    geometry: ["area", "line"],
    role: "boundary",
    label: "area",
    minZoom: 9,
  },
  {
    when: { leisure: "nature_reserve" },
    geometry: "area",
    role: "boundary",
    class: "nature_reserve",
    label: "area",
    minZoom: 9,
  },

  { when: { natural: ["peak", "volcano", "hill"] }, geometry: "point", role: "peak", minZoom: 10 },
  { when: { natural: "saddle", ele: "*" }, geometry: "point", role: "spotHeight", minZoom: 12 },
  {
    when: { mountain_pass: "yes", ele: "*" },
    geometry: "point",
    role: "spotHeight",
    class: "saddle",
    minZoom: 12,
  },
  { when: { man_made: "survey_point", ele: "*" }, geometry: "point", role: "spotHeight", minZoom: 13 },

  // Named places, and names of things that are points on the map.
  { when: { place: ["city", "town"] }, geometry: ["point", "area"], role: "name", minZoom: 8 },
  {
    when: { place: ["village", "suburb", "island"] },
    geometry: ["point", "area"],
    role: "name",
    minZoom: 10,
  },
  {
    when: { place: ["hamlet", "locality", "isolated_dwelling", "farm", "islet", "neighbourhood", "quarter"] },
    geometry: ["point", "area"],
    role: "name",
    minZoom: 12,
  },
  {
    when: {
      natural: ["saddle", "bay", "spring", "cave_entrance", "rock", "stone", "gorge", "cirque"],
      name: "*",
    },
    geometry: "point",
    role: "name",
    minZoom: 12,
  },
  {
    when: { mountain_pass: "yes", name: "*" },
    geometry: "point",
    role: "name",
    class: "saddle",
    minZoom: 11,
  },
  {
    when: { waterway: "waterfall", name: "*" },
    geometry: "point",
    role: "name",
    class: "water",
    minZoom: 12,
  },
  { when: { ford: "*", name: "*" }, geometry: "point", role: "name", class: "ford", minZoom: 13 },
  { when: { gpx: "waypoint", name: "*" }, geometry: "point", role: "name", class: "place", minZoom: 11 },
];

/** For what neither a rule nor a guess knows: what the kind of file alone says. */
export const FALLBACK_RULES: readonly Rule[] = [
  { when: { kml: "track" }, geometry: "line", role: "path", class: "path", minZoom: 10 },
  { when: { kml: "point", name: "*" }, geometry: "point", role: "name", class: "place", minZoom: 11 },
];

/** Tags that say what a thing is, the most telling first: what is unmapped is listed under the first it has. */
export const PRINCIPAL_KEYS: readonly string[] = [
  "highway",
  "waterway",
  "natural",
  "landuse",
  "railway",
  "aerialway",
  "barrier",
  "power",
  "building",
  "leisure",
  "boundary",
  "military",
  "man_made",
  "place",
  "amenity",
  "tourism",
  "historic",
  "shop",
  "sport",
  "route",
  "public_transport",
  "piste:type",
  "aeroway",
  "emergency",
  "office",
  "craft",
  "gpx",
  "kml",
];
