/**
 * OpenStreetMap data into features, in two readings: the first takes nodes and learns which ways the relations are
 * made of, the second takes ways as they come. What lies off the map is dropped at once.
 */
import { badFeatures, type FeatureFile, type Tick } from "../../files/feature-file.ts";
import { nodeStore } from "./osm-nodes.ts";
import type { OsmHandlers } from "./osm-objects.ts";
import { openOsmPbf } from "./osm-pbf.ts";
import { readOsmXml } from "./osm-xml.ts";
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

interface AreaRelation {
  readonly id: number;
  readonly tags: Tags;
  readonly ways: readonly number[];
  /** Those among them that are said to run around holes. */
  readonly inner: ReadonlySet<number>;
  /** It says nothing itself: the area is what its outer ways say they are, as was usual before about 2016. */
  readonly saysNothing: boolean;
}

interface MemberWay {
  readonly from: number;
  readonly to: number;
  /** Null when some of its nodes are not in the file. */
  readonly coords: Float64Array | null;
}

/**
 * @param meets whether a box in degrees meets the map, so that far-off ways are dropped at once
 * @returns the day of the data when the file says it
 * @throws Fault "bad-features"
 */
export async function readOsm(
  file: FeatureFile,
  binary: boolean,
  emit: Emit,
  passed: Passed,
  meets: (west: number, south: number, east: number, north: number) => boolean,
  tick: Tick,
): Promise<{ readonly day: string | null }> {
  const pbf = binary ? await openOsmPbf(file) : null;
  // Both readings count half.
  const half: Tick = (bytes) => tick(bytes / 2);
  const read = (handlers: OsmHandlers): Promise<void> =>
    pbf ? pbf.read(handlers, half) : readOsmXml(file, handlers, half);

  const nodes = nodeStore();
  const mostNodes = Math.max(FEW_NODES, file.sizeBytes);
  const areas: AreaRelation[] = [];
  const memberWays = new Map<number, MemberWay | null>();
  /** Ways that say what the area around which they run is. */
  const tagsOfOuter = new Map<number, Tags | null>();
  /** Ways that are only a piece of a border, with the border's tags: the lowest level counts. */
  const borders = new Map<number, Tags>();
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
        for (const way of ways)
          if (level < Number(borders.get(way)?.["admin_level"] ?? 100))
            borders.set(way, { boundary: "administrative", admin_level: String(level) });
        return;
      }
      const saysNothing = !Object.keys(tags).some((key) => key !== "type" && !ABOUT_DATA.test(key));
      const inner = new Set(members.filter((m) => m.role === "inner").map((m) => m.id));
      areas.push({ id, tags, ways, inner, saysNothing });
      if (saysNothing)
        for (const member of members)
          if (member.type === "way" && member.role !== "inner") tagsOfOuter.set(member.id, null);
      for (const way of ways) memberWays.set(way, null);
    },
  });
  nodes.finish();

  let coords = new Float64Array(1024);
  await read({
    way(id, refs, own) {
      const member = memberWays.has(id);
      const border = borders.get(id);
      const tags = border && own?.["boundary"] === undefined ? { ...own, ...border } : own;
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
      if (member) memberWays.set(id, { from: refs[0] ?? 0, to: refs.at(-1) ?? 0, coords: whole });
      if (!saysSomething(tags)) return;
      const outer = tagsOfOuter.has(id);
      if (outer) tagsOfOuter.set(id, tags);
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

  for (const { id, tags: own, ways, inner, saysNothing } of areas) {
    const lent = saysNothing ? ways.map((way) => tagsOfOuter.get(way)).find((t) => t) : undefined;
    const tags = lent ?? own;
    const pieces: RingPiece[] = [];
    const around: RingPiece[] = [];
    const holes: RingPiece[] = [];
    let incomplete = false;
    for (const way of ways) {
      const piece = memberWays.get(way);
      if (!piece?.coords) {
        incomplete = true;
        continue;
      }
      const whole = { ...piece, coords: piece.coords };
      pieces.push(whole);
      (inner.has(way) ? holes : around).push(whole);
    }
    const { rings, left } = joinRings(pieces);
    incomplete ||= left > 0;
    if (incomplete) passed.incomplete++;
    // A hole whose surroundings are not all in the file must not become an area itself: there, what is said to be
    // outside and inside counts, else it is found from where rings lie, as it is often said wrongly.
    const polygons = incomplete
      ? ringsInto(joinRings(around).rings.filter(isRing), joinRings(holes).rings.filter(isRing))
      : nestRings(rings.filter(isRing));
    if (polygons.length === 0) {
      if (!incomplete) passed.noShape++;
      continue;
    }
    if (saysSomething(tags)) emit({ where: `relation ${id}`, tags, shape: { type: "area", polygons } });
  }
  return { day: pbf?.head.day ?? null };
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
