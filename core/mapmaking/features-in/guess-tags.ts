/**
 * Tags for features that have none we know: guessed from words that many shapefiles and GeoJSON files use for layers
 * and values. A guess can be wrong: it is reported as one, and a person's rule goes before it.
 */
import type { Tags } from "./raw-feature.ts";
import type { GeometryKind } from "./rule-schema.ts";

type Guess = Readonly<Record<string, string>>;

/** Fields that say what a feature is. */
const CLASS_FIELDS = [
  "fclass",
  "class",
  "subclass",
  "kind",
  "type",
  "category",
  "feature",
  "feature_type",
  "descriptio",
];

/** Values as OpenStreetMap has them, which other data often take over, and the key they belong to. */
const VALUES: Readonly<Record<string, readonly string[]>> = {
  waterway: ["river", "stream", "canal", "ditch", "drain", "brook", "creek"],
  highway: [
    "path", "footway", "bridleway", "cycleway", "steps", "track", "motorway", "trunk", "primary", "secondary",
    "tertiary", "unclassified", "residential", "living_street", "service", "pedestrian",
  ],
  natural: ["cliff", "peak", "wetland", "wood", "water", "ridge", "saddle", "spring", "coastline"],
  barrier: ["wall", "fence", "hedge"],
  railway: ["rail", "narrow_gauge", "tram", "light_rail", "funicular"],
  landuse: ["forest", "reservoir", "military"],
  place: ["city", "town", "village", "suburb", "hamlet", "locality", "farm"],
}; // prettier-ignore

/** Other words for them, singular. */
const WORDS: readonly (readonly [words: readonly string[], kinds: readonly GeometryKind[], guess: Guess])[] =
  [
    [["river"], ["line"], { waterway: "river" }],
    [
      ["stream", "creek", "brook", "watercourse", "waterway", "hydrography"],
      ["line"],
      { waterway: "stream" },
    ],
    [["canal"], ["line"], { waterway: "canal" }],
    [["ditch", "drain"], ["line"], { waterway: "ditch" }],
    [
      ["water", "lake", "pond", "reservoir", "waterbody", "hydrography", "river"],
      ["area"],
      { natural: "water" },
    ],
    [["path", "trail", "footpath", "hiking"], ["line"], { highway: "path" }],
    [["track", "forestroad"], ["line"], { highway: "track" }],
    [["road", "street", "highway"], ["line"], { highway: "road" }],
    [["rail", "railway", "railroad"], ["line"], { railway: "rail" }],
    [["wall"], ["line"], { barrier: "wall" }],
    [["fence", "fenceline"], ["line"], { barrier: "fence" }],
    [["hedge"], ["line"], { barrier: "hedge" }],
    [["powerline", "transmission"], ["line"], { power: "line" }],
    [["cliff", "escarpment"], ["line", "area"], { natural: "cliff" }],
    [["wood", "woodland", "forest"], ["area"], { natural: "wood" }],
    [["wetland", "swamp", "marsh", "bog"], ["area"], { natural: "wetland" }],
    [["building", "structure", "house"], ["area", "point"], { building: "yes" }],
    [["peak", "summit"], ["point"], { natural: "peak" }],
    [["place", "placename", "settlement", "town", "village"], ["point"], { place: "locality" }],
    [["boundary", "border", "municipality", "district"], ["line", "area"], { boundary: "administrative" }],
    [["reserve", "protected", "park"], ["area"], { boundary: "protected_area" }],
    [["military", "restricted", "danger"], ["area"], { landuse: "military" }],
  ];

export interface Guessed {
  readonly tags: Tags;
  /** "layer “streams”" or "type = river". */
  readonly from: string;
  /** "waterway=stream". */
  readonly as: string;
}

const wordsOf = (text: string): string[] =>
  text
    .replaceAll(/([a-z])([A-Z])/g, "$1 $2")
    .toLowerCase()
    .split(/[^\p{L}]+/u)
    .flatMap((word) => [
      word,
      word.replace(/ies$/, "y"),
      word.replace(/(ch|sh|ss|x)es$/, "$1"),
      word.replace(/s$/, ""),
    ]);

function fromWords(text: string, kinds: readonly GeometryKind[]): Guess | null {
  const words = new Set(wordsOf(text));
  for (const [known, allowed, guess] of WORDS)
    if (kinds.some((kind) => allowed.includes(kind)) && known.some((word) => words.has(word))) return guess;
  return null;
}

/** Null when nothing suggests what it is. */
export function guessTags(tags: Tags, layer: string, kinds: readonly GeometryKind[]): Guessed | null {
  const made = (guess: Guess, from: string): Guessed => {
    const [key, value] = Object.entries(guess)[0]!;
    return { tags: { ...tags, ...guess }, from, as: `${key}=${value}` };
  };
  for (const field of CLASS_FIELDS) {
    const value = tags[field];
    if (typeof value !== "string") continue;
    const word = value.toLowerCase().replaceAll(/[\s-]+/g, "_");
    for (const key in VALUES)
      if (VALUES[key]!.includes(word)) return made({ [key]: word }, `${field} = ${value.slice(0, 40)}`);
    const guess = fromWords(value, kinds);
    if (guess) return made(guess, `${field} = ${value.slice(0, 40)}`);
  }
  const folder = tags["folder"];
  for (const text of typeof folder === "string" ? [folder, layer] : [layer]) {
    const guess = fromWords(text, kinds);
    if (guess) return made(guess, `layer “${text.slice(0, 40)}”`);
  }
  return null;
}
