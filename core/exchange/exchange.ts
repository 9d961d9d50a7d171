/** What a file of another program holds, before somebody chooses what of it becomes a walk. */
import type { Fault } from "../fault.ts";
import { badFeatures } from "../files/feature-file.ts";
import { meridianRadius, parallelRadius } from "../geodesy/ellipsoid.ts";
import { inverse } from "../geodesy/geodesic.ts";
import { DEG } from "../units/angle.ts";
import { type Bbox, bboxOf, type LonLat } from "../units/position.ts";
import type { TableLook, TableWish } from "./csv-columns.ts";
import type { FileFrame } from "./file-frame.ts";

/** An outline is the outer edge of an area, closed. */
export type CandidateKind = "route" | "track" | "line" | "outline" | "points";

/** What is said of a kind in sentences. */
const CALLED: Readonly<Record<CandidateKind, string>> = {
  route: "route",
  track: "track",
  line: "line",
  outline: "line around an area",
  points: "set of points",
};

/** One route, one track, one line, one edge of an area or one set of single points, in the order of the file. */
export interface Candidate {
  readonly kind: CandidateKind;
  readonly name: string | null;
  readonly notes: string;
  readonly positions: readonly LonLat[];
  /** Names of the positions, null where there is none; as long as `positions`. */
  readonly names: readonly (string | null)[];
  readonly pointNotes: readonly string[];
  /** Along the ellipsoid from position to position, metres; of single points too, in their order. */
  readonly lengthM: number;
  readonly bounds: Bbox;
  /** First and last time in the file's own words; null when it has none. */
  readonly times: readonly [string, string] | null;
  /** Positions with a height; a walk takes its heights from the map. */
  readonly heights: number;
}

export interface Exchange {
  readonly format: "GPX" | "KML" | "KMZ" | "GeoJSON" | "CSV" | "list";
  readonly title: string | null;
  readonly notes: string;
  readonly candidates: readonly Candidate[];
  /** What was guessed, merged or left out in reading, in plain sentences. */
  readonly report: readonly string[];
  /** How a table was taken; null for everything else. */
  readonly table: TableLook | null;
}

export interface ReadOptions {
  readonly mostBytes: number;
  readonly mostPositions: number;
  /** Order of columns without names, and of GeoJSON that breaks its standard; null guesses, and says so. */
  readonly axes: "lat-lon" | "lon-lat" | null;
  /** Latitude and longitude stand in each other's place, whatever they are called; null finds out, and says so. */
  readonly exchanged: boolean | null;
  /** Where the positions may be expected, such as the open map: tells axes apart and completes partial references. */
  readonly near: Bbox | null;
  /** A label as TextDecoder knows it; null goes by the file itself. */
  readonly encoding: string | null;
  /** What the figures count in; null is degrees on WGS 84. */
  readonly frame: FileFrame | null;
  /** How a table is to be taken; null finds out. */
  readonly table: TableWish | null;
}
/** Two days and nights at one position a second; read and thinned in a few seconds. No source. */
export const READ_LIMITS: ReadOptions = {
  mostBytes: 2 ** 26,
  mostPositions: 200_000,
  axes: null,
  exchanged: null,
  near: null,
  encoding: null,
  frame: null,
  table: null,
};

/** What a reader collects of one candidate. */
export interface Draft {
  kind: CandidateKind;
  name: string | null;
  notes: string;
  positions: LonLat[];
  names: (string | null)[];
  pointNotes: string[];
  times: [string, string] | null;
  heights: number;
}
export const draft = (kind: CandidateKind): Draft => ({
  kind,
  name: null,
  notes: "",
  positions: [],
  names: [],
  pointNotes: [],
  times: null,
  heights: 0,
});

/** Puts positions into drafts as the file has them, and holds their number to the limit. */
export class Positions {
  #count = 0;
  /** The first position that no place has as it stands: it may be one once the axes are exchanged. */
  odd: Fault | null = null;
  readonly #most: number;
  readonly #degrees: boolean;

  constructor({ mostPositions, frame }: ReadOptions) {
    this.#most = mostPositions;
    this.#degrees = frame === null || frame.figures === "degrees";
  }

  /** @throws Fault "bad-features" at a position that is none, or one too many */
  add(to: Draft, x: number, y: number, where: string, heightGiven = false): void {
    if (!Number.isFinite(x) || !Number.isFinite(y))
      throw badFeatures(
        "A position is no pair of numbers.",
        where,
        "Put it right in the program that wrote it.",
      );
    if (this.#degrees && (Math.abs(x) > 180 || Math.abs(y) > 90)) this.odd ??= noPlace(x, y, where);
    if (++this.#count > this.#most)
      throw badFeatures(
        `The file holds more than ${this.#most} positions.`,
        where,
        "Save a shorter part of it.",
      );
    to.positions.push([x, y]);
    to.names.push(null);
    to.pointNotes.push("");
    if (heightGiven) to.heights++;
  }
}

export const noPlace = (lon: number, lat: number, where: string): Fault =>
  badFeatures(
    `A position is none: latitude ${lat}, longitude ${lon}.`,
    where,
    "Latitude runs from −90 to 90, longitude from −180 to 180. Are the figures of a grid, or exchanged?",
  );

/** Names and notes of the position that was added last. */
export function describeLast(to: Draft, name: string | null, note: string): void {
  const last = to.positions.length - 1;
  to.names[last] = name;
  to.pointNotes[last] = note;
}

export function noteTime(to: Draft, time: string): void {
  if (time !== "") to.times = [to.times?.[0] ?? time.slice(0, 40), time.slice(0, 40)];
}

/** The middle of where positions may be expected; null when that is nowhere. */
export const middleOf = (near: Bbox | null): LonLat | null =>
  near && [(near[0] + near[2]) / 2, (near[1] + near[3]) / 2];

/** What a reader hands on: positions as the file has them. */
export interface RawExchange {
  title: string | null;
  notes: string;
  readonly drafts: Draft[];
  readonly report: string[];
  /** See `Positions`. */
  readonly odd: Fault | null;
  /** The positions were written so that they say themselves where they lie: no frame is laid on them. */
  readonly placed?: boolean;
  readonly table?: TableLook;
}

/** A text of the file without the white space around it; null when nothing is left. */
export const trimmed = (text: string): string | null => text.trim() || null;

/**
 * Metres between two positions. A geodesic costs much for the hundred thousand short steps of a track; up to about 1 km, and
 * 80° from the equator, the radii at the middle give it to a millimetre.
 */
function stepM(a: LonLat, b: LonLat): number {
  const [dLon, dLat, middle] = [b[0] - a[0], b[1] - a[1], (a[1] + b[1]) / 2];
  if (Math.abs(dLon) > 0.01 || Math.abs(dLat) > 0.01 || Math.abs(middle) > 80) return inverse(a, b).distanceM;
  return Math.hypot(dLon * parallelRadius(middle), dLat * meridianRadius(middle)) * DEG;
}

export function candidateOf(d: Draft): Candidate {
  let lengthM = 0;
  for (let i = 1; i < d.positions.length; i++)
    lengthM += stepM(d.positions[i - 1] as LonLat, d.positions[i] as LonLat);
  return { ...d, lengthM, bounds: bboxOf(d.positions) as Bbox };
}

const same = (a: Draft, b: Draft): boolean =>
  a.positions.length === b.positions.length &&
  a.positions.every(([lon, lat], i) => lon === b.positions[i]?.[0] && lat === b.positions[i]?.[1]);

/**
 * Candidates in the order routes, lines, tracks, outlines, points. What only repeats the positions of an earlier one lends it its
 * names and notes and is left out.
 */
export function settle(drafts: readonly Draft[], report: string[]): Candidate[] {
  const order: CandidateKind[] = ["route", "line", "track", "outline", "points"];
  const kept: Draft[] = [];
  for (const d of order.flatMap((kind) => drafts.filter((one) => one.kind === kind))) {
    if (d.positions.length === 0) {
      report.push(`A ${CALLED[d.kind]} without positions was left out.`);
      continue;
    }
    const twin = kept.find((k) => same(k, d));
    if (!twin) {
      kept.push(d);
      continue;
    }
    twin.names = twin.names.map((name, i) => name ?? d.names[i] ?? null);
    twin.pointNotes = twin.pointNotes.map((note, i) => note || (d.pointNotes[i] ?? ""));
    twin.heights = Math.max(twin.heights, d.heights);
    twin.times ??= d.times;
    report.push(
      `The ${d.kind === "points" ? "single points repeat" : `${CALLED[d.kind]} repeats`} the positions of the ${CALLED[twin.kind]}; ${d.kind === "points" ? "their" : "its"} names and notes were taken over.`,
    );
  }
  return kept.map(candidateOf);
}
