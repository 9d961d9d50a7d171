/** Everything near a target that might serve as an attack point: places lines make, buildings, tops, landforms. */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { AreaFeature, PointFeature } from "../../map/features.ts";
import type { Kind } from "../../map/kinds.ts";
import type { Landform } from "../../terrain/landforms/landform.ts";
import type { LonLat } from "../../units/position.ts";
import { kindAndName } from "../line-kinds.ts";
import { apartM, type St } from "./framed-geometry.ts";
import type { FramedLine } from "./framed-line.ts";
import { linePlaces } from "./line-places.ts";

export interface Candidate extends St {
  readonly kind: Kind;
  readonly name: string | null;
  /** With its article: "the junction of a path and Moor Road", "where the path crosses the stream". */
  readonly words: string;
  /** How surely it is known when one stands there, 0–1. Common practice, no source for the figures. */
  readonly distinct: number;
  readonly lines: readonly FramedLine[];
}

export interface Surroundings {
  readonly frame: LegFrame;
  readonly lines: readonly FramedLine[];
  /** Peaks, spot heights and buildings. */
  readonly points?: readonly PointFeature[];
  /** Buildings and water: only what is small enough to be a place is used. */
  readonly areas?: readonly AreaFeature[];
  readonly landforms?: readonly Landform[];
}

/** Larger things are no places, metres across. */
const PLACE_M = 80;
/** A summit on the map and the top in the terrain are one, metres. */
const ONE_TOP_M = 60;
/** Two names for one thing, metres. */
const ONE_M = 20;

/** Candidates within a distance of a place of the frame, the most distinct of what lies together first. */
export function candidatesNear(around: Surroundings, at: St, reachM: number): Candidate[] {
  const { frame, lines, points = [], areas = [], landforms = [] } = around;
  const window = { minS: at.s - reachM, maxS: at.s + reachM, minT: at.t - reachM, maxT: at.t + reachM };
  const place = (lonLat: LonLat): St => {
    const [s, t] = frame.toFrame(lonLat);
    return { s, t };
  };
  const found: Candidate[] = [
    ...linePlaces(lines, window),
    ...pointCandidates(points, landforms, place),
    ...areaCandidates(areas, frame),
    ...landformCandidates(landforms, place),
  ].filter((c) => apartM(c, at) <= reachM);
  found.sort((a, b) => b.distinct - a.distinct);
  const kept: Candidate[] = [];
  for (const next of found) {
    const room = TOPS.has(next.kind) ? ONE_TOP_M : ONE_M;
    const same = kept.some((k) => apartM(k, next) <= (TOPS.has(k.kind) ? room : ONE_M));
    if (!same) kept.push(next);
  }
  return kept;
}

const TOPS: ReadonlySet<Kind> = new Set<Kind>(["peak", "spotHeight", "hill"]);

function pointCandidates(
  points: readonly PointFeature[],
  landforms: readonly Landform[],
  place: (lonLat: LonLat) => St,
): Candidate[] {
  const tops = landforms.filter(({ kind }) => kind === "hill");
  return points.flatMap((point): Candidate[] => {
    const { kind, name, lonLat } = point;
    const at = place(lonLat);
    if (kind === "building") return [building(name, at)];
    if (kind === "peak")
      return [{ ...at, kind, name, words: name ?? "the summit", distinct: 0.9, lines: [] }];
    // Spot heights stand anywhere: only one on a top can be found without the map in hand.
    if (kind !== "spotHeight" || !tops.some((top) => apartM(place(top.lonLat), at) <= ONE_TOP_M)) return [];
    return [{ ...at, kind, name, words: name ?? "the top with the spot height", distinct: 0.8, lines: [] }];
  });
}

const building = (name: string | null, at: St): Candidate => ({
  ...at,
  kind: "building",
  name,
  words: `the ${kindAndName("building", name)}`,
  distinct: 0.9,
  lines: [],
});

function areaCandidates(areas: readonly AreaFeature[], frame: LegFrame): Candidate[] {
  return areas.flatMap((area): Candidate[] => {
    const ring = area.rings[0];
    if ((area.kind !== "building" && area.kind !== "water") || !ring || ring.length < 6) return [];
    const st = new Float64Array(ring.length);
    frame.project(ring, 0, ring.length >> 1, st);
    let [minS, maxS, minT, maxT] = [Infinity, -Infinity, Infinity, -Infinity];
    for (let i = 0; i < st.length; i += 2) {
      minS = Math.min(minS, st[i] as number);
      maxS = Math.max(maxS, st[i] as number);
      minT = Math.min(minT, st[i + 1] as number);
      maxT = Math.max(maxT, st[i + 1] as number);
    }
    const acrossM = Math.max(maxS - minS, maxT - minT);
    if (acrossM > PLACE_M) return [];
    const at = { s: (minS + maxS) / 2, t: (minT + maxT) / 2 };
    if (area.kind === "building") return [building(area.name, at)];
    // A pool of a few metres dries up or is one of many; a sliver of a lake cut by a tile is none.
    if (acrossM < 10 || Math.min(maxS - minS, maxT - minT) < acrossM / 4) return [];
    return [
      { ...at, kind: "water", name: area.name, words: area.name ?? "the pond", distinct: 0.7, lines: [] },
    ];
  });
}

/** Standing out less than this much, metres, a landform is hard to know on the ground. No source. */
const PLAIN_RELIEF_M = 15;

function landformCandidates(landforms: readonly Landform[], place: (lonLat: LonLat) => St): Candidate[] {
  return landforms.flatMap((form): Candidate[] => {
    const plain = Math.min(1, form.reliefM / PLAIN_RELIEF_M);
    const { name } = form;
    const make = (kind: Kind, words: string, distinct: number, lonLat = form.lonLat): Candidate[] => [
      { ...place(lonLat), kind, name, words, distinct: distinct * plain, lines: [] },
    ];
    if (form.kind === "hill") return make("hill", name ?? "the top of the hill", 0.75);
    if (form.kind === "saddle") return make("saddle", "the saddle", 0.6);
    if (form.kind === "depression") return make("depression", "the bottom of the depression", 0.5);
    if (form.kind !== "spur" || !form.line) return [];
    // Lines of landforms run from their higher end.
    const n = form.line.length;
    return make("spur", "the foot of the spur", 0.6, [
      form.line[n - 2] as number,
      form.line[n - 1] as number,
    ]);
  });
}
