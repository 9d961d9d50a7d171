/** Where along a leg the map cannot answer, and why. */
import type { LegFrame } from "../geodesy/leg-frame.ts";
import { type Bbox, bboxOf, growBbox, type LonLat } from "../units/position.ts";
import type { Blind, MapFeatures } from "./features.ts";

export interface BlindStretch {
  /** Metres from the leg's start. */
  readonly fromM: number;
  readonly toM: number;
  readonly reason: Blind["reason"];
}

/** So far a leg is straight in longitude and latitude to about a centimetre, up to 80° of latitude. */
const STRAIGHT_M = 300;
/** Bounds in an archive's header are rounded to 1e-7°: a leg along the map's edge is not outside. */
const HEADER_PRECISION = 1e-7;
/** Stretches closer together than this are one: they meet at a tile's edge. */
const TOGETHER_M = 0.05;

/**
 * The stretches of a leg that lie outside the map, on tiles the archive lacks, or on damaged ones; in order, those of
 * one reason merged. A leg without length has one stretch from 0 to 0 where its place is blind. What lies beyond ±180°
 * from the start is not looked at, so it is "outside".
 * The leg's own box must have been prepared: a tile not read counts as missing.
 */
export function blindAlong(frame: LegFrame, map: MapFeatures): BlindStretch[] {
  const [lon0] = frame.from;
  const unrolled = (lon: number): number => lon + (lon - lon0 > 180 ? -360 : lon0 - lon > 180 ? 360 : 0);
  const places = placesAlong(frame).map(({ atM, lonLat: [lon, lat] }) => ({ atM, x: unrolled(lon), y: lat }));
  const box = bboxOf(places.map(({ x, y }): LonLat => [Math.min(180, Math.max(-180, x)), y])) as Bbox;
  const gaps = map.blind(growBbox(box, 1)).filter(({ reason }) => reason !== "outside");
  const [west, south, east, north] = map.info.bounds;
  const bounds: Bbox = [
    west - HEADER_PRECISION,
    south - HEADER_PRECISION,
    east + HEADER_PRECISION,
    north + HEADER_PRECISION,
  ];

  const found: BlindStretch[] = [];
  for (let i = 1; i < places.length; i++) {
    const [a, b] = [places[i - 1] as Place, places[i] as Place];
    const at = (share: number): number => a.atM + share * (b.atM - a.atM);
    const inside = within(a, b, bounds);
    if (!inside) found.push({ fromM: a.atM, toM: b.atM, reason: "outside" });
    else {
      if (inside[0] > 0) found.push({ fromM: a.atM, toM: at(inside[0]), reason: "outside" });
      if (inside[1] < 1) found.push({ fromM: at(inside[1]), toM: b.atM, reason: "outside" });
      for (const { bbox, reason } of gaps) {
        const part = within(a, b, bbox);
        if (part && (part[0] < part[1] || frame.lengthM === 0))
          found.push({ fromM: at(part[0]), toM: at(part[1]), reason });
      }
    }
  }
  return merged(found);
}

interface Place {
  readonly atM: number;
  readonly x: number;
  readonly y: number;
}

function placesAlong(frame: LegFrame): { readonly atM: number; readonly lonLat: LonLat }[] {
  const parts = Math.max(1, Math.ceil(frame.lengthM / STRAIGHT_M));
  return Array.from({ length: parts + 1 }, (_, i) => {
    const atM = (frame.lengthM * i) / parts;
    return { atM, lonLat: i === 0 ? frame.from : i === parts ? frame.to : frame.toLonLat(atM, 0) };
  });
}

/** The share of the way from one place to another within a box; null when it misses it. */
function within(a: Place, b: Place, [west, south, east, north]: Bbox): readonly [number, number] | null {
  let [enter, leave] = [0, 1];
  for (const [from, to, low, high] of [
    [a.x, b.x, west, east],
    [a.y, b.y, south, north],
  ] as const) {
    if (from === to) {
      if (from < low || from > high) return null;
      continue;
    }
    const [one, other] = [(low - from) / (to - from), (high - from) / (to - from)];
    enter = Math.max(enter, Math.min(one, other));
    leave = Math.min(leave, Math.max(one, other));
  }
  return enter <= leave ? [enter, leave] : null;
}

function merged(stretches: readonly BlindStretch[]): BlindStretch[] {
  const out: BlindStretch[] = [];
  for (const reason of ["outside", "missing", "damaged"] as const) {
    const alike = stretches.filter((s) => s.reason === reason).toSorted((a, b) => a.fromM - b.fromM);
    for (const stretch of alike) {
      const last = out.at(-1);
      if (last?.reason === reason && stretch.fromM <= last.toM + TOGETHER_M)
        out[out.length - 1] = { ...last, toM: Math.max(last.toM, stretch.toM) };
      else out.push(stretch);
    }
  }
  return out.toSorted((a, b) => a.fromM - b.fromM);
}
