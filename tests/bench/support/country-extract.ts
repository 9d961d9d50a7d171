/**
 * A made-up extract of OpenStreetMap data as large as a country's, written straight to a file. As in real extracts, objects
 * are ordered by id and their ids say nothing of where they lie: mappers come to one place after another, all over the
 * country, draw some things there, and join them to what is there already. Node, way and relation counts stand in the
 * ratio of the real extract of 142,832 nodes, 15,247 ways and 358 relations that was looked at.
 */
import { closeSync, openSync, writeSync } from "node:fs";
import { deflateSync } from "node:zlib";
import { PbfWriter } from "pbf";
import { osmFrame } from "../../core/mapmaking/features-in/support.ts";

/** Objects in a block: what usual writers of extracts put there. */
const IN_BLOCK = 8000;
const PLACES_PER_DEGREE = 200;

interface Way {
  readonly refs: number[];
  readonly tags: readonly string[];
}
interface Relation {
  readonly ways: readonly number[];
  readonly inner: number;
  readonly tags: readonly string[];
}

/** Numbers 0–1, always the same. Source: Numerical Recipes' linear congruential generator, 32 bits. */
function numbers(): () => number {
  let state = 20_261_127;
  return () => (state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0) / 2 ** 32;
}

/** One kind of thing that is drawn: how many positions, how far from one to the next in degrees, closed or not. */
const KINDS = [
  { share: 0.42, least: 5, most: 9, step: 0.00012, closed: true, tags: ["building", "yes"] },
  { share: 0.12, least: 3, most: 15, step: 0.0006, closed: false, tags: ["highway", "residential"] },
  { share: 0.14, least: 4, most: 20, step: 0.0007, closed: false, tags: ["highway", "track"] },
  { share: 0.08, least: 4, most: 22, step: 0.0006, closed: false, tags: ["highway", "path"] },
  { share: 0.06, least: 6, most: 34, step: 0.0008, closed: false, tags: ["waterway", "stream"] },
  { share: 0.05, least: 8, most: 36, step: 0.0012, closed: true, tags: ["landuse", "forest"] },
  { share: 0.05, least: 5, most: 18, step: 0.0008, closed: true, tags: ["landuse", "meadow"] },
  { share: 0.03, least: 6, most: 24, step: 0.0005, closed: true, tags: ["natural", "water"] },
  { share: 0.03, least: 4, most: 14, step: 0.0005, closed: false, tags: ["barrier", "wall"] },
  { share: 0.02, least: 4, most: 16, step: 0.002, closed: false, tags: ["highway", "secondary"] },
] as const;

/** @param box west, south, east, north; @returns what the file holds */
export function writeCountry(
  path: string,
  nodes: number,
  [west, south, east, north]: readonly [number, number, number, number],
): { readonly nodes: number; readonly ways: number; readonly relations: number; readonly bytes: number } {
  const fd = openSync(path, "w");
  let bytes = 0;
  const put = (blob: Uint8Array): void => void (bytes += writeSync(fd, blob));
  const head = new PbfWriter();
  for (const need of ["OsmSchema-V0.6", "DenseNodes"]) head.writeStringField(4, need);
  put(blob("OSMHeader", head.finish()));

  const next = numbers();
  const columns = Math.ceil((east - west) * PLACES_PER_DEGREE);
  const rows = Math.ceil((north - south) * PLACES_PER_DEGREE);
  /** The last node of each place, which what is drawn there next begins with. */
  const joints = new Float64Array(columns * rows);
  let id = 0;
  let ids: number[] = [];
  let lons: number[] = [];
  let lats: number[] = [];
  const flushNodes = (): void => {
    if (ids.length > 0) put(block([], (pbf) => dense(pbf, ids, lons, lats)));
    [ids, lons, lats] = [[], [], []];
  };
  const node = (lon: number, lat: number): number => {
    // Ids of a country have gaps: most nodes lie elsewhere.
    id += 1 + Math.floor(next() * 3);
    ids.push(id);
    lons.push(Math.round(lon * 1e7));
    lats.push(Math.round(lat * 1e7));
    if (ids.length === IN_BLOCK) flushNodes();
    return id;
  };
  const ways: Way[] = [];
  const relations: Relation[] = [];
  const drawn = { nodes: 0 };
  const draw = (place: number, kind: (typeof KINDS)[number], tags: readonly string[]): void => {
    const n = kind.least + Math.floor(next() * (kind.most - kind.least));
    const joint = joints[place]!;
    const refs: number[] = !kind.closed && joint > 0 ? [joint] : [];
    let lon = west + ((place % columns) + next()) / PLACES_PER_DEGREE;
    let lat = south + (Math.floor(place / columns) + next()) / PLACES_PER_DEGREE;
    let heading = next() * 2 * Math.PI;
    for (let i = 0; i < n; i++) {
      heading += kind.closed ? (2 * Math.PI) / n : (next() - 0.5) * 0.8;
      lon = Math.min(east, Math.max(west, lon + kind.step * Math.cos(heading) * (0.9 + 0.2 * next())));
      lat = Math.min(north, Math.max(south, lat + kind.step * Math.sin(heading) * (0.9 + 0.2 * next())));
      refs.push(node(lon, lat));
      drawn.nodes++;
    }
    if (kind.closed) refs.push(refs[0]!);
    else joints[place] = refs[Math.floor(refs.length / 2)]!;
    ways.push({ refs, tags });
  };
  while (drawn.nodes < nodes) {
    const place = Math.floor(next() * columns * rows);
    for (let k = 0; k < 12; k++) {
      let pick = next();
      const kind = KINDS.find(({ share }) => (pick -= share) < 0) ?? KINDS[0];
      const named = next() < 0.1 ? ["name", `Thing ${ways.length}`] : [];
      draw(place, kind, [...kind.tags, ...named]);
    }
    // A wood with a clearing: as a relation, its ways without tags.
    if (next() < 0.28) {
      draw(place, KINDS[5], []);
      draw(place, KINDS[6], []);
      relations.push({ ways: [ways.length - 1, ways.length], inner: ways.length, tags: ["natural", "wood"] });
    }
  }
  flushNodes();
  for (let at = 0; at < ways.length; at += IN_BLOCK) {
    const some = ways.slice(at, at + IN_BLOCK);
    put(
      block(some, (pbf, index) =>
        some.forEach(({ refs }, k) =>
          pbf.writeMessage(
            3,
            (_, way) => {
              way.writeVarintField(1, at + k + 1);
              const { keys, values } = index(k);
              way.writePackedVarint(2, keys);
              way.writePackedVarint(3, values);
              way.writePackedSVarint(8, differences(refs));
            },
            null,
          ),
        ),
      ),
    );
  }
  for (let at = 0; at < relations.length; at += IN_BLOCK) {
    const some = relations
      .slice(at, at + IN_BLOCK)
      .map((one) => ({ ...one, tags: ["type", "multipolygon", ...one.tags, "outer", "inner"] }));
    put(
      block(some, (pbf, index) =>
        some.forEach(({ ways: members, inner }, k) =>
          pbf.writeMessage(
            4,
            (_, relation) => {
              const { keys, values } = index(k);
              relation.writeVarintField(1, at + k + 1);
              relation.writePackedVarint(2, keys.slice(0, -1));
              relation.writePackedVarint(3, values.slice(0, -1));
              const roles = [keys.at(-1)!, values.at(-1)!];
              relation.writePackedVarint(
                8,
                members.map((way) => roles[way === inner ? 1 : 0]!),
              );
              relation.writePackedSVarint(9, differences(members));
              relation.writePackedVarint(
                10,
                members.map(() => 1),
              );
            },
            null,
          ),
        ),
      ),
    );
  }
  closeSync(fd);
  return { nodes: drawn.nodes, ways: ways.length, relations: relations.length, bytes };
}

const differences = (all: readonly number[]): number[] => all.map((v, i) => v - (i > 0 ? all[i - 1]! : 0));

function dense(pbf: PbfWriter, ids: number[], lons: number[], lats: number[]): void {
  pbf.writeMessage(
    2,
    (_, nodes) => {
      nodes.writePackedSVarint(1, differences(ids));
      nodes.writePackedSVarint(8, differences(lats));
      nodes.writePackedSVarint(9, differences(lons));
    },
    null,
  );
}

interface Indexed {
  readonly keys: number[];
  readonly values: number[];
}

/** A block of one group, with the table of strings that its tags need. */
function block(
  things: readonly { readonly tags: readonly string[] }[],
  group: (pbf: PbfWriter, index: (k: number) => Indexed) => void,
): Uint8Array {
  const strings = new Map<string, number>([["", 0]]);
  const indexOf = (text: string): number => {
    const known = strings.get(text) ?? strings.size;
    strings.set(text, known);
    return known;
  };
  const indexed = things.map(({ tags }): Indexed => {
    const all = tags.map(indexOf);
    return { keys: all.filter((_, i) => i % 2 === 0), values: all.filter((_, i) => i % 2 === 1) };
  });
  const pbf = new PbfWriter();
  pbf.writeMessage(
    1,
    (_, table) => {
      for (const text of strings.keys()) table.writeBytesField(1, new TextEncoder().encode(text));
    },
    null,
  );
  pbf.writeMessage(2, (_, out) => group(out, (k) => indexed[k]!), null);
  return blob("OSMData", pbf.finish());
}

/** Node's zlib, which is several times as fast as plain JavaScript's. */
function blob(type: string, plain: Uint8Array): Uint8Array {
  const pbf = new PbfWriter();
  pbf.writeVarintField(2, plain.length);
  pbf.writeBytesField(3, deflateSync(plain));
  return osmFrame(type, pbf.finish());
}
