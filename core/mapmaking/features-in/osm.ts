/**
 * OpenStreetMap data into features, in two readings: the first takes nodes and learns which ways the relations are
 * made of, the second takes ways as they come. What lies off the map is dropped at once.
 */
import type { Spool } from "../spool.ts";
import { badFeatures, type FeatureFile, type Tick } from "../../files/feature-file.ts";
import { nodeStore } from "./osm-nodes.ts";
import type { OsmHandlers } from "./osm-objects.ts";
import { openOsmPbf } from "./osm-pbf.ts";
import { readOsmXml } from "./osm-xml.ts";
import { type AreaRelation, AreaParts } from "./osm-parts.ts";
import type { Emit, Passed, Tags } from "./raw-feature.ts";
import { joinRings, nestRings, type RingPiece, ringsInto } from "./rings.ts";

/** A packed node of real data takes several bytes: a file of more nodes than bytes is none. */
const FEW_NODES = 1_000_000;

/** Tags that say who mapped a thing and how: an object with no others is no feature. */
const ABOUT_DATA = /^(source|created_by|note|fixme|FIXME|attribution|converted_by|import|odbl)(:|$)/;
export function saysSomething(tags: Tags | null): tags is Tags {
  for (const key in tags) if (!ABOUT_DATA.test(key)) return true;
  return false;
}

export interface OsmNeeds {
  /** Whether a box in degrees meets the map, so that far-off ways are dropped at once. */
  readonly meets: (west: number, south: number, east: number, north: number) => boolean;
  /** A place where nodes, or parts of areas, wait. */
  readonly openSpool: () => Spool;
}

/**
 * @returns the day of the data when the file says it
 * @throws Fault "bad-features"
 */
export async function readOsm(
  file: FeatureFile,
  binary: boolean,
  emit: Emit,
  passed: Passed,
  { meets, openSpool }: OsmNeeds,
  tick: Tick,
): Promise<{ readonly day: string | null }> {
  const pbf = binary ? await openOsmPbf(file) : null;
  // Both readings count half.
  const half: Tick = (bytes) => tick(bytes / 2);
  const read = (handlers: OsmHandlers): Promise<void> =>
    pbf ? pbf.read(handlers, half) : readOsmXml(file, handlers, half);

  const nodes = nodeStore(openSpool);
  const mostNodes = Math.max(FEW_NODES, file.sizeBytes);
  const parts = new AreaParts(openSpool());
  /** Ways that are only a piece of a border, with the border's level: the lowest counts. */
  const borders = new Map<number, number>();
  await read({
    node(id, lon, lat, tags) {
      nodes.add(id, lon, lat);
      if (nodes.count() > mostNodes)
        throw badFeatures(
          "The file would hold more nodes than bytes: it is made to fill the memory.",
          file.key,
        );
      if (saysSomething(tags) && meets(lon, lat, lon, lat))
        emit({ where: `node ${id}`, tags, shape: { type: "point", coords: Float64Array.of(lon, lat) } });
    },
    relation(id, members, tags) {
      const type = tags?.["type"];
      if (!tags || (type !== "multipolygon" && type !== "boundary")) return;
      const ways = members.filter((m) => m.type === "way").map((m) => m.id);
      if (tags["boundary"] === "administrative") {
        const level = Number(tags["admin_level"] ?? 99);
        for (const way of ways) if (level < (borders.get(way) ?? 100)) borders.set(way, level);
        return;
      }
      const saysNothing = !Object.keys(tags).some((key) => key !== "type" && !ABOUT_DATA.test(key));
      const inner = members.filter((m) => m.role === "inner").map((m) => m.id);
      const outer = members.filter((m) => m.type === "way" && m.role !== "inner").map((m) => m.id);
      parts.addRelation({ id, tags, ways, inner, saysNothing }, saysNothing ? outer : []);
    },
  });
  nodes.finish();
  parts.endRelations();

  let coords = new Float64Array(1024);
  await read({
    way(id, refs, own) {
      const member = parts.isMember(id);
      const level = borders.get(id);
      const tags =
        level !== undefined && own?.["boundary"] === undefined
          ? { ...own, boundary: "administrative", admin_level: String(level) }
          : own;
      if (!member && !saysSomething(tags)) return;
      if (2 * refs.length > coords.length) coords = new Float64Array(4 * refs.length);
      let n = 0;
      let missing = 0;
      const runs: Float64Array[] = [];
      const endRun = (): void => {
        if (n >= 4) runs.push(coords.slice(0, n));
        n = 0;
      };
      for (const ref of refs) {
        if (nodes.find(ref, coords, n)) n += 2;
        else {
          // Never a line across a gap: what lies between is not known.
          missing++;
          endRun();
        }
      }
      endRun();
      const whole = missing === 0 ? (runs[0] ?? null) : null;
      const speaks = saysSomething(tags);
      const outer = parts.isOuter(id);
      const [from, to] = [refs[0] ?? 0, refs.at(-1) ?? 0];
      if (member) parts.addWay(id, { from, to, coords: whole, tags: outer && speaks ? tags : null });
      if (!speaks) return;
      if (missing > 0) passed.incomplete++;
      if (runs.length === 0) {
        passed.noShape++;
        return;
      }
      const closed = !outer && whole !== null && refs.length >= 4 && refs[0] === refs.at(-1);
      for (const run of runs) {
        const box = lineBox(run);
        if (meets(box[0], box[1], box[2], box[3]))
          emit({ where: `way ${id}`, tags, shape: { type: closed ? "closed" : "line", coords: run } });
      }
    },
  });

  let done = 0;
  for (const relation of parts.all()) {
    if ((done++ & 63) === 0) await tick(0);
    const { tags, polygons, incomplete } = areaOf(relation, parts);
    if (incomplete) passed.incomplete++;
    if (polygons.length === 0) {
      if (!incomplete) passed.noShape++;
    } else if (saysSomething(tags))
      emit({ where: `relation ${relation.id}`, tags, shape: { type: "area", polygons } });
  }
  return { day: pbf?.head.day ?? null };
}

/** A relation put together from its ways. */
function areaOf(
  { tags, ways, inner, saysNothing }: AreaRelation,
  parts: AreaParts,
): { readonly tags: Tags; readonly polygons: Float64Array[][]; readonly incomplete: boolean } {
  const pieces: RingPiece[] = [];
  const around: RingPiece[] = [];
  const holes: RingPiece[] = [];
  const inside = new Set(inner);
  let lent: Tags | null = null;
  let incomplete = false;
  for (const id of ways) {
    const way = parts.way(id);
    if (saysNothing) lent ??= way?.tags ?? null;
    if (!way?.coords) {
      incomplete = true;
      continue;
    }
    const whole = { from: way.from, to: way.to, coords: way.coords };
    pieces.push(whole);
    (inside.has(id) ? holes : around).push(whole);
  }
  const { rings, left } = joinRings(pieces);
  incomplete ||= left > 0;
  // A hole whose surroundings are not all in the file must not become an area itself: there, what is said to be
  // outside and inside counts, else it is found from where rings lie, as it is often said wrongly.
  const polygons = incomplete
    ? ringsInto(joinRings(around).rings.filter(isRing), joinRings(holes).rings.filter(isRing))
    : nestRings(rings.filter(isRing));
  return { tags: lent ?? tags, polygons, incomplete };
}

/** Four positions or more. */
const isRing = (ring: Float64Array): boolean => ring.length >= 8;

function lineBox(coords: Float64Array): readonly [number, number, number, number] {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < coords.length; i += 2) {
    const lon = coords[i]!;
    const lat = coords[i + 1]!;
    if (lon < west) west = lon;
    if (lon > east) east = lon;
    if (lat < south) south = lat;
    if (lat > north) north = lat;
  }
  return [west, south, east, north];
}
