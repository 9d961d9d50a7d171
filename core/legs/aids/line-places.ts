/**
 * Places that lines of the map make: junctions, confluences, bridges and fords, gates, sharp bends, corners, ends.
 * How surely each is known when one stands there, 0–1, is common practice, no source for the figures.
 */
import type { Kind } from "../../map/kinds.ts";
import { isUnderground } from "../crossings/crossing-detail.ts";
import { kindAndName, kindWord } from "../line-kinds.ts";
import {
  alongAt,
  alongOf,
  apartM,
  isRing,
  lengthOf,
  pointAlong,
  pointAt,
  type St,
  turnBetween,
} from "./framed-geometry.ts";
import type { FramedLine } from "./framed-line.ts";
import {
  type Arm,
  lineClass,
  type LineClass,
  MERGE_M,
  type Node,
  nodesOf,
  type Window,
} from "./line-meetings.ts";

export interface LinePlace extends St {
  readonly kind: Kind;
  readonly name: string | null;
  /** With its article: "the junction of a path and Moor Road", "where the path crosses the stream". */
  readonly words: string;
  readonly distinct: number;
  /** The lines it lies on. */
  readonly lines: readonly FramedLine[];
}

/** A turn of less is not noticed as a bend by one who walks it. */
const BEND_DEG = 60;
/** The turn is that from 25 m before to 25 m after, and has to last: most of it still shows 40 m on. */
const BEND_M = 25;
const LASTING_M = 40;
const LASTING_SHARE = 0.7;

/** All places within a window of the frame. Lines have to be known wholly within it: an end there is taken as one. */
export function linePlaces(lines: readonly FramedLine[], window: Window): LinePlace[] {
  const near = lines.filter(
    (l) =>
      lineClass(l.line.kind) !== null &&
      !isUnderground(l.line) &&
      l.maxS >= window.minS &&
      l.minS <= window.maxS &&
      l.maxT >= window.minT &&
      l.minT <= window.maxT,
  );
  const nodes = nodesOf(near, window);
  const places = nodes.flatMap((node) => placeOf(node) ?? []);
  for (const end of ends(near, nodes, window)) places.push(end);
  for (const bend of near.flatMap((line) => bends(line, window)))
    if (!places.some((p) => apartM(p, bend) <= 2 * MERGE_M)) places.push(bend);
  return places;
}

const arms = (node: Node, of: LineClass): Arm[] =>
  node.members.filter(({ line }) => lineClass(line.line.kind) === of);
const sum = (members: readonly Arm[]): number => members.reduce((n, { arms: k }) => n + k, 0);

function placeOf(node: Node): LinePlace | null {
  const of = {
    way: arms(node, "way"),
    rail: arms(node, "rail"),
    water: arms(node, "water"),
    shore: arms(node, "shore"),
    wall: arms(node, "wall"),
    wood: arms(node, "wood"),
  };
  const make = (kind: Kind, words: string, distinct: number, members: readonly Arm[]): LinePlace => ({
    s: node.s,
    t: node.t,
    kind,
    name: [...new Set(members.flatMap(({ line }) => line.line.name ?? []))].join(" and ") || null,
    words,
    distinct,
    lines: members.map(({ line }) => line),
  });
  const where = (verb: string, one: readonly Arm[], other: readonly Arm[], distinct: number): LinePlace =>
    make("junction", `where the ${called(one)} ${verb} the ${called(other)}`, distinct, [...one, ...other]);
  if (sum(of.way) >= 3) {
    const roads = of.way.some(({ line }) => line.line.kind === "road");
    return make("junction", meetingWords("junction", of.way), roads ? 1 : 0.9, of.way);
  }
  if (of.way.length > 0 && of.rail.length > 0) return where("crosses", of.way, of.rail, 1);
  if (of.way.length > 0 && of.water.length > 0) return where("crosses", of.way, of.water, 0.95);
  if (sum(of.water) >= 3) return make("confluence", meetingWords("confluence", of.water), 0.85, of.water);
  if (of.water.length > 0 && of.shore.length > 0) return where("meets", of.water, of.shore, 0.85);
  if (of.way.length > 0 && of.wall.length > 0) return where("meets", of.way, of.wall, 0.75);
  if (sum(of.wall) >= 3) return make("junction", meetingWords("junction", of.wall), 0.75, of.wall);
  if (of.way.length > 0 && of.shore.length > 0) return where("meets", of.way, of.shore, 0.7);
  if (of.way.length > 0 && of.wood.length > 0) return where("meets", of.way, of.wood, 0.65);
  const all = [...of.way, ...of.water, ...of.wall];
  const [one, other] = all;
  if (all.length === 2 && one?.arms === 1 && other?.arms === 1) {
    const turn = turnBetween(away(one, -1), away(other, 1));
    if (turn >= BEND_DEG) return bendPlace(one.line, node, turn);
  }
  return null;
}

/** Vector of the first 25 m of a line from its end, outwards, or towards the end for −1. */
function away({ line, place }: Arm, sign: 1 | -1): St {
  const at = alongAt(line, place);
  const here = pointAt(line, place);
  const there = pointAlong(line, at < lengthOf(line) / 2 ? at + BEND_M : at - BEND_M);
  return { s: sign * (there.s - here.s), t: sign * (there.t - here.t) };
}

const called = (members: readonly Arm[]): string => {
  const named = members.find(({ line }) => line.line.name !== null) ?? members[0];
  if (!named) return "line";
  return kindAndName(named.line.line.kind, named.line.line.name);
};

/** "the junction of two paths", "the junction of a path and Moor Road" */
function meetingWords(what: string, members: readonly Arm[]): string {
  const names = [
    ...new Set(
      // What has a name comes first.
      [...members]
        .sort((a, b) => Number(a.line.line.name === null) - Number(b.line.line.name === null))
        .map(({ line: { line } }) =>
          line.name === null ? `a ${kindWord(line.kind)}` : kindAndName(line.kind, line.name),
        ),
    ),
  ];
  const [first, second] = names;
  if (second !== undefined) return `the ${what} of ${first} and ${second}`;
  return first?.startsWith("a ") ? `the ${what} of ${first.slice(2)}s` : `the ${what} on ${first}`;
}

const END_DISTINCT: Partial<Record<Kind, number>> = { path: 0.5, road: 0.7, wall: 0.6, fence: 0.55 };

/** Ends of lines that reach no other: a stream's source is too vague to be one. */
function ends(lines: readonly FramedLine[], nodes: readonly Node[], w: Window): LinePlace[] {
  return lines.flatMap((framed): LinePlace[] => {
    const { kind, name } = framed.line;
    const distinct = END_DISTINCT[kind];
    if (distinct === undefined || isRing(framed) || lengthOf(framed) < 2 * BEND_M) return [];
    return [0, framed.count - 1].flatMap((place): LinePlace[] => {
      const { s, t } = pointAt(framed, place);
      if (s < w.minS || s > w.maxS || t < w.minT || t > w.maxT) return [];
      if (nodes.some((node) => apartM(node, { s, t }) <= MERGE_M)) return [];
      return [
        { s, t, kind, name, words: `the end of the ${kindAndName(kind, name)}`, distinct, lines: [framed] },
      ];
    });
  });
}

const BENDING: ReadonlySet<Kind> = new Set<Kind>([
  "path",
  "road",
  "stream",
  "river",
  "wall",
  "fence",
  "woodEdge",
  "shore",
]);

function bends(framed: FramedLine, w: Window): LinePlace[] {
  if (!BENDING.has(framed.line.kind)) return [];
  const { st, count } = framed;
  const along = alongOf(framed);
  const totalM = along[count - 1] as number;
  const found: { at: number; turn: number; point: St }[] = [];
  for (let i = 1; i + 1 < count; i++) {
    const point = { s: st[2 * i] as number, t: st[2 * i + 1] as number };
    if (point.s < w.minS || point.s > w.maxS || point.t < w.minT || point.t > w.maxT) continue;
    const at = along[i] as number;
    if (at < BEND_M || totalM - at < BEND_M) continue;
    const turn = turnOver(framed, at, point, BEND_M);
    if (turn < BEND_DEG) continue;
    const last = found.at(-1);
    if (last && at - last.at < 2 * BEND_M) {
      if (turn > last.turn) found[found.length - 1] = { at, turn, point };
    } else found.push({ at, turn, point });
  }
  return found
    .filter(({ at, turn, point }) => turnOver(framed, at, point, LASTING_M) >= LASTING_SHARE * turn)
    .map(({ point, turn }) => bendPlace(framed, point, turn));
}

function turnOver(framed: FramedLine, at: number, point: St, chordM: number): number {
  const a = pointAlong(framed, at - chordM);
  const b = pointAlong(framed, at + chordM);
  return turnBetween({ s: point.s - a.s, t: point.t - a.t }, { s: b.s - point.s, t: b.t - point.t });
}

const CORNERED: ReadonlySet<Kind> = new Set<Kind>(["wall", "fence", "woodEdge", "shore"]);

/** A bend of what one walks along, a corner of what bounds something. */
function bendPlace(framed: FramedLine, { s, t }: St, turnDeg: number): LinePlace {
  const { kind, name } = framed.line;
  const corner = CORNERED.has(kind);
  const sharp = Math.min(1, Math.max(0, (turnDeg - BEND_DEG) / 40));
  const words = corner
    ? kind === "woodEdge" || kind === "shore"
      ? `the corner of ${name ?? (kind === "woodEdge" ? "the wood" : "the lake")}`
      : `the corner of the ${kindAndName(kind, name)}`
    : `the bend of the ${kindAndName(kind, name)}`;
  return {
    s,
    t,
    kind: corner ? "corner" : "bend",
    name,
    words,
    distinct: (corner ? 0.6 : 0.5) + 0.2 * sharp,
    lines: [framed],
  };
}
