/** From features of a file to features of the map: which role, which attributes, cut to the map, in its units. */
import type { Role } from "../../map/kinds.ts";
import type { Attributes } from "../../map/features.ts";
import type { Bbox } from "../../units/position.ts";
import { worldX, worldY } from "../elevation/grid-placement.ts";
import type { Interval } from "../interval.ts";
import { unitsOf } from "../role-features.ts";
import { type Box, boxOf, clipLine } from "../tile-clip.ts";
import { clipArea } from "../tile-clip-area.ts";
import { AREA, LINE, POINT, type TileFeature } from "../tile-feature.ts";
import { guessTags } from "./guess-tags.ts";
import { keptAttributes, nameOf } from "./kept-attributes.ts";
import { type Match, matcher } from "./match-rules.ts";
import { FALLBACK_RULES, PRINCIPAL_KEYS } from "./osm-rules.ts";
import type { RawFeature, Shape, Tags } from "./raw-feature.ts";
import type { GeometryKind, Rule } from "./rule-schema.ts";
import { type Budget, insideOf, mapBudget, tidyArea } from "./tidy-area.ts";

export interface DrawnOptions {
  /** The map's zoom whose units are used. */
  readonly maxZoom: number;
  readonly minZoom: number;
  /** What lies outside is cut off. */
  readonly bounds: Bbox;
  /** Of heights on the map. */
  readonly unit: Interval["unit"];
}

/** What became of features, by count. */
export interface DrawnCounts {
  /** Features of the files, before rules. */
  read: number;
  /** Left off the map by a rule. */
  dropped: number;
  /** With a role, but nowhere on the map. */
  outside: number;
  /** Areas whose edges crossed and were untied, and those that could not be. */
  untied: number;
  lost: number;
  /** Too small to be drawn in the finest unit. */
  tiny: number;
  readonly roles: Partial<Record<Role, number>>;
  /** By what they say they are; the rest under "other". */
  readonly unmapped: Map<string, number>;
  /** By what it was guessed from and taken for. */
  readonly guessed: Map<string, number>;
}

export const newCounts = (): DrawnCounts => ({
  read: 0,
  dropped: 0,
  outside: 0,
  untied: 0,
  lost: 0,
  tiny: 0,
  roles: {},
  unmapped: new Map(),
  guessed: new Map(),
});

/** Different things listed; the rest are counted together. */
const MOST_LISTED = 2000;

/** Lowest zoom a role is drawn at when its rule does not say. */
const ELSE_FROM_ZOOM = 12;
/** Names of areas come onto the map once the area is this wide, pixels of a 512-pixel tile. */
const NAME_PX = 60;

const KINDS: Readonly<Record<Shape["type"], readonly GeometryKind[]>> = {
  point: ["point"],
  line: ["line"],
  closed: ["line", "area"],
  area: ["area"],
};

export interface DrawnFeatures {
  readonly counts: DrawnCounts;
  /** @param known the file's tags are in the words of OpenStreetMap: nothing is guessed */
  add(raw: RawFeature, layer: string, file: string, known: boolean): void;
}

/** @param take receives each feature that comes onto the map */
export function drawnFeatures(
  rules: readonly Rule[],
  { maxZoom, minZoom, bounds, unit }: DrawnOptions,
  take: (feature: TileFeature) => void,
): DrawnFeatures {
  const match = matcher(rules);
  const matchElse = matcher(FALLBACK_RULES);
  /** Some rule looks at the file's name: only then are features told theirs. */
  const asksFile = rules.some(({ when }) => Object.keys(when).some((key) => key.startsWith("@")));
  const counts = newCounts();
  const budget = mapBudget();
  const units = (coords: Float64Array): Int32Array => {
    const out = new Int32Array(coords.length);
    for (let i = 0; i + 1 < coords.length; i += 2) {
      out[i] = unitsOf(worldX(coords[i]!), maxZoom);
      out[i + 1] = unitsOf(worldY(coords[i + 1]!), maxZoom);
    }
    return out;
  };
  const corners = units(Float64Array.from(bounds));
  const box: Box = { x0: corners[0]!, y0: corners[3]!, x1: corners[2]!, y1: corners[1]! };

  const push = (
    role: Role,
    type: TileFeature["type"],
    parts: readonly Int32Array[],
    attributes: Attributes,
    from: number,
  ): void => {
    take({ role, type, parts, attributes, minZoom: Math.min(maxZoom, Math.max(minZoom, from)) });
    counts.roles[role] = (counts.roles[role] ?? 0) + 1;
  };
  const tally = (list: Map<string, number>, what: string): void => {
    const key = list.has(what) || list.size < MOST_LISTED ? what : "other";
    list.set(key, (list.get(key) ?? 0) + 1);
  };

  const nameAt = (at: Int32Array, sizeUnits: number, name: string, what: string, ofMinZoom: number): void => {
    // The zoom at which the thing is wide enough for its name.
    const wide = Math.ceil(maxZoom - Math.log2(Math.max(1, sizeUnits) / (NAME_PX * 8)));
    push("name", POINT, [at], { name, class: what }, Math.max(ofMinZoom, wide));
  };

  const draw = ({ role, rule, class: what, geometry }: Match, { tags, shape }: RawFeature): void => {
    const kept = keptAttributes(tags, what, unit);
    const attributes = rule.set ? { ...kept, ...rule.set } : kept;
    const from = rule.minZoom ?? ELSE_FROM_ZOOM;
    const set = rule.set?.["name"];
    const name = set === undefined ? nameOf(tags) : String(set);
    if (role === "name" && name === null) {
      tally(counts.unmapped, `${unmappedAs(tags, [geometry], null)} without a name`);
      return;
    }
    // A place mapped as an area or a line is a name on the map, and its outline nothing.
    const nameOnly = role === "name" && geometry !== "point";
    const label = nameOnly ? (what ?? "place") : rule.label;
    if (geometry === "point" && shape.type === "point") {
      const at = units(shape.coords);
      const inside = at[0]! >= box.x0 && at[0]! <= box.x1 && at[1]! >= box.y0 && at[1]! <= box.y1;
      if (inside) push(role, POINT, [at], attributes, from);
      else counts.outside++;
    } else if (geometry === "line" && (shape.type === "line" || shape.type === "closed")) {
      const line = withoutRepeats(units(shape.coords));
      if (line.length < 4) {
        counts.tiny++;
        return;
      }
      const parts = insideBox(line, box);
      if (parts.length === 0) counts.outside++;
      if (!nameOnly) for (const part of parts) push(role, LINE, [part], attributes, from);
      const longest = parts.reduce<Int32Array | null>((a, b) => (a && a.length >= b.length ? a : b), null);
      if (label !== undefined && name !== null && longest) {
        const middle = 2 * Math.floor(longest.length / 4);
        const { x0, x1, y0, y1 } = boxOf(longest);
        nameAt(longest.slice(middle, middle + 2), Math.max(x1 - x0, y1 - y0), name, label, from);
      }
    } else if (shape.type === "closed" || shape.type === "area") {
      const polygons = shape.type === "closed" ? [[shape.coords]] : shape.polygons;
      let widest: { readonly rings: readonly Int32Array[]; readonly width: number } | null = null;
      let drawn = 0;
      let small = 0;
      for (const polygon of polygons) {
        const rings = polygon.map(units);
        const b = boxOf(rings[0]!);
        if (b.x0 > box.x1 || b.x1 < box.x0 || b.y0 > box.y1 || b.y1 < box.y0) continue;
        const tidy = tidyArea(rings, budget);
        if (tidy.how === "untied") counts.untied++;
        if (tidy.how === "lost") counts.lost++;
        if (tidy.how === "fine" && tidy.polygons.length === 0) small++;
        for (const whole of tidy.polygons) {
          for (const piece of piecesInBox(whole, box, budget)) {
            if (!nameOnly) push(role, AREA, piece, attributes, from);
            drawn++;
            const p = boxOf(piece[0]!);
            const width = Math.max(p.x1 - p.x0, p.y1 - p.y0);
            if (!widest || width > widest.width) widest = { rings: piece, width };
          }
        }
      }
      if (drawn === 0) {
        if (small > 0) counts.tiny++;
        else counts.outside++;
      }
      if (widest && label !== undefined && name !== null)
        nameAt(Int32Array.from(insideOf(widest.rings)), widest.width, name, label, from);
    }
  };

  return {
    counts,
    add(raw, layer, file, known) {
      counts.read++;
      const kinds = kindsOf(raw);
      const tags: Tags = raw.tags;
      const seen = (own: Tags): Tags => (asksFile ? { ...own, "@layer": layer, "@file": file } : own);
      let found = match(seen(tags), kinds);
      let as = raw;
      if (found === null && !known) {
        const guess = guessTags(tags, layer, kinds);
        found = guess && match(seen(guess.tags), kinds);
        if (guess && found) {
          tally(counts.guessed, `${guess.from} as ${guess.as}`);
          as = { ...raw, tags: guess.tags };
        }
      }
      if (found === null && !known) found = matchElse(tags, kinds);
      if (found === null) tally(counts.unmapped, unmappedAs(tags, kinds, known ? null : layer));
      else if (found === "dropped") counts.dropped++;
      else for (const one of found) draw(one, as);
    },
  };
}

/** A closed line is an area where its tags say so or where only a rule for areas wants it. */
function kindsOf({ shape, tags }: RawFeature): readonly GeometryKind[] {
  if (shape.type !== "closed") return KINDS[shape.type];
  if (tags["area"] === "no") return ["line"];
  // A square that one may walk all over is no path around it.
  return tags["area"] === "yes" ? KINDS.area : KINDS.closed;
}

function unmappedAs(tags: Tags, kinds: readonly GeometryKind[], layer: string | null): string {
  for (const key of PRINCIPAL_KEYS) {
    const value = tags[key];
    if (value !== undefined) return `${key}=${String(value).slice(0, 60)}`;
  }
  if (layer !== null) return `layer “${layer.slice(0, 60)}” (${kinds[0]!}s)`;
  for (const key in tags) return `${key.slice(0, 60)}=…`;
  return "no tags";
}

/** Cutting rounds: what is cut is tidied once more. */
function piecesInBox(
  rings: readonly Int32Array[],
  box: Box,
  budget: Budget,
): readonly (readonly Int32Array[])[] {
  const { x0, y0, x1, y1 } = boxOf(rings[0]!);
  if (x0 >= box.x0 && x1 <= box.x1 && y0 >= box.y0 && y1 <= box.y1) return [rings];
  return clipArea(rings, box).flatMap((piece) => tidyArea(piece, budget).polygons);
}

function withoutRepeats(line: Int32Array): Int32Array {
  let n = 0;
  for (let i = 0; i + 1 < line.length; i += 2) {
    if (n > 0 && line[n - 2] === line[i] && line[n - 1] === line[i + 1]) continue;
    line[n++] = line[i]!;
    line[n++] = line[i + 1]!;
  }
  return line.subarray(0, n);
}

function insideBox(line: Int32Array, box: Box): Int32Array[] {
  const { x0, y0, x1, y1 } = boxOf(line);
  if (x0 >= box.x0 && x1 <= box.x1 && y0 >= box.y0 && y1 <= box.y1) return [line];
  if (x0 > box.x1 || x1 < box.x0 || y0 > box.y1 || y1 < box.y0) return [];
  const columns: Int32Array[] = [];
  clipLine(line, 0, box.x0, box.x1, columns);
  const parts: Int32Array[] = [];
  for (const column of columns) clipLine(column, 1, box.y0, box.y1, parts);
  return parts.map(withoutRepeats).filter((part) => part.length >= 4);
}
