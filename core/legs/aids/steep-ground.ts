/**
 * Steep ground in the zone of a leg: places of the slope lattice at or above each chosen angle, joined where they touch
 * (corners included) into patches of one class, and patches of one class on one side into stretches along the leg.
 */
import { meridianRadius, parallelRadius } from "../../geodesy/ellipsoid.ts";
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { ElevationModel } from "../../terrain/elevation.ts";
import { DEG } from "../../units/angle.ts";
import { halfWidthAt, type Zone, zoneAreaM2, zoneCorners } from "./hazards-zone.ts";
import { type SlopeField, slopeField } from "./hazards-slope.ts";

/** Steep places of one class, side and stretch. */
export interface SteepStretch {
  /** The class: at or above `fromDeg`, below `belowDeg`; null has no upper bound. */
  readonly fromDeg: number;
  readonly belowDeg: number | null;
  readonly fromM: number;
  readonly toM: number;
  readonly side: "on" | "left" | "right";
  readonly offsetM: number;
  readonly steepestDeg: number;
  /** Share of the zone's width that is of this class, on average from `fromM` to `toM`. */
  readonly share: number;
  /** s, t of its places, for drawing and for following the ground downhill. */
  readonly places: Float64Array;
}

export interface SteepFinding {
  readonly stretches: readonly SteepStretch[];
  /** Share of the zone whose slope the model does not tell. */
  readonly unknownShare: number;
  /** Spacing of the places looked at, metres. */
  readonly stepM: number;
  /** Coarser than the model's own samples, because the leg is so long. */
  readonly coarser: boolean;
  readonly field: SlopeField;
}

/** Patches of a class within this of one another along the leg are one stretch. No source. */
const GAP_M = 50;
/** Smaller patches are left out: 10 m by 10 m. No source. */
const LEAST_M2 = 100;
/** More places than this are not looked at: half a second's work. */
const MOST_PLACES = 100_000;

/**
 * @param steepDeg chosen angles, any order; each begins a class that ends at the next
 */
export function steepGround(
  frame: LegFrame,
  elevation: ElevationModel,
  zone: Zone,
  steepDeg: readonly number[],
): SteepFinding {
  const own = slopeField(frame, elevation);
  const zoneM2 = zoneAreaM2(zone, 0, zone.toS);
  const coarser = zoneM2 / own.lattice.stepM ** 2 > MOST_PLACES;
  const field = coarser ? slopeField(frame, elevation, Math.sqrt(zoneM2 / MOST_PLACES)) : own;
  const angles = [...new Set(steepDeg)].filter((deg) => deg > 0 && deg < 90).toSorted((a, b) => a - b);
  const found = steepPlaces(frame, field, zone, angles);
  return {
    stretches: stretchesOf(found, angles, zone, field.lattice.stepM),
    unknownShare: found.looked > 0 ? found.unknown / found.looked : 1,
    stepM: field.lattice.stepM,
    coarser,
    field,
  };
}

interface Places {
  readonly s: number[];
  readonly t: number[];
  readonly deg: number[];
  readonly classOf: number[];
  /** Which patch, by the number of one of its places. */
  readonly patch: number[];
  /** Ground each place stands for, square metres. */
  readonly cellM2: number;
  readonly looked: number;
  readonly unknown: number;
}

function steepPlaces(frame: LegFrame, field: SlopeField, zone: Zone, angles: readonly number[]): Places {
  const { lattice } = field;
  const corners = zoneCorners(zone).map(([s, t]) => field.toLattice(s, t));
  const rowMin = Math.ceil(Math.min(...corners.map(([, row]) => row)));
  const rowMax = Math.floor(Math.max(...corners.map(([, row]) => row)));
  const columnMin = Math.floor(Math.min(...corners.map(([column]) => column)));
  const width = Math.ceil(Math.max(...corners.map(([column]) => column))) - columnMin + 3;
  const [lon0, lat0] = frame.toLonLat(frame.lengthM / 2, 0);
  const cellM2 = lattice.dLon * DEG * parallelRadius(lat0) * lattice.dLat * DEG * meridianRadius(lat0);
  const least = angles[0] ?? Infinity;
  const [s, t, deg, classOf, patch]: number[][] = [[], [], [], [], []] as number[][] &
    [number[], number[], number[], number[], number[]];
  let [looked, unknown] = [0, 0];
  const root = (i: number): number => {
    while (patch[i] !== i) i = patch[i] = patch[patch[i] as number] as number;
    return i;
  };
  // Number of the steep place at each column of this row and the one before, from 1; 0 for none.
  let before = new Int32Array(width);
  let here = new Int32Array(width);
  const at = new Float64Array(2);
  const lonLat = [lon0, lat0];
  for (let row = rowMin; row <= rowMax; row++) {
    here.fill(0);
    const [first, last] = columnsInside(corners, row);
    for (let column = Math.ceil(first); column <= last; column++) {
      const slope = lattice.slopeDeg(column, row);
      looked++;
      if (!(slope >= least)) {
        if (Number.isNaN(slope)) unknown++;
        continue;
      }
      let k = 0;
      while (k + 1 < angles.length && slope >= (angles[k + 1] as number)) k++;
      const i = s.length;
      lonLat[0] = column * lattice.dLon;
      lonLat[1] = row * lattice.dLat;
      frame.project(lonLat, 0, 1, at);
      s.push(at[0] as number);
      t.push(at[1] as number);
      deg.push(slope);
      classOf.push(k);
      patch.push(i);
      const x = column - columnMin + 1;
      here[x] = i + 1;
      for (const near of [here[x - 1], before[x - 1], before[x], before[x + 1]])
        if (near && classOf[near - 1] === k) patch[root(near - 1)] = root(i);
    }
    [before, here] = [here, before];
  }
  for (let i = 0; i < patch.length; i++) patch[i] = root(i);
  return { s, t, deg, classOf, patch, cellM2, looked, unknown };
}

/** From which column to which a row lies inside a convex figure. */
function columnsInside(corners: readonly (readonly [number, number])[], row: number): [number, number] {
  let [first, last] = [Infinity, -Infinity];
  for (let k = 0; k < corners.length; k++) {
    const [c0, r0] = corners[k] as readonly [number, number];
    const [c1, r1] = corners[(k + 1) % corners.length] as readonly [number, number];
    if (r0 > row === r1 > row) continue;
    const column = c0 + ((row - r0) / (r1 - r0)) * (c1 - c0);
    first = Math.min(first, column);
    last = Math.max(last, column);
  }
  return [first, last];
}

interface Patch {
  classOf: number;
  side: "on" | "left" | "right";
  fromM: number;
  toM: number;
  offsetM: number;
  steepestDeg: number;
  members: number[];
}

function stretchesOf(places: Places, angles: readonly number[], zone: Zone, stepM: number): SteepStretch[] {
  const half = stepM / 2;
  const patches = new Map<number, Patch>();
  places.patch.forEach((key, i) => {
    const s = places.s[i] as number;
    const t = places.t[i] as number;
    let patch = patches.get(key);
    if (!patch) {
      patch = {
        classOf: places.classOf[i] as number,
        side: "on",
        fromM: Infinity,
        toM: -Infinity,
        offsetM: Infinity,
        steepestDeg: 0,
        members: [],
      };
      patches.set(key, patch);
    }
    patch.members.push(i);
    patch.fromM = Math.min(patch.fromM, Math.max(0, s - half));
    patch.toM = Math.max(patch.toM, Math.min(zone.toS, s + half));
    patch.steepestDeg = Math.max(patch.steepestDeg, places.deg[i] as number);
    const offset = Math.max(0, Math.abs(t) - half);
    if (offset < patch.offsetM) {
      patch.offsetM = offset;
      patch.side = offset === 0 ? "on" : t < 0 ? "left" : "right";
    }
  });
  const joined: Patch[] = [];
  for (const patch of [...patches.values()].toSorted((a, b) => a.fromM - b.fromM)) {
    const same = joined.find(
      (p) => p.classOf === patch.classOf && p.side === patch.side && patch.fromM - p.toM <= GAP_M,
    );
    if (!same) {
      joined.push(patch);
      continue;
    }
    same.toM = Math.max(same.toM, patch.toM);
    same.offsetM = Math.min(same.offsetM, patch.offsetM);
    same.steepestDeg = Math.max(same.steepestDeg, patch.steepestDeg);
    same.members.push(...patch.members);
  }
  return joined
    .filter(({ members }) => members.length * places.cellM2 >= LEAST_M2)
    .map(({ classOf, side, fromM, toM, offsetM, steepestDeg, members }) => ({
      fromDeg: angles[classOf] as number,
      belowDeg: angles[classOf + 1] ?? null,
      fromM,
      toM,
      side,
      offsetM,
      steepestDeg,
      share: Math.min(1, (members.length * places.cellM2) / zoneAreaM2(zone, fromM, toM)),
      places: Float64Array.from(members.flatMap((i) => [places.s[i] as number, places.t[i] as number])),
    }));
}

/**
 * The outline of a stretch as one closed ring of s, t: the outermost places to each side in slices along the leg.
 * Made for drawing: what lies between two steep places of a slice is inside.
 */
export function outlineOf({ places, fromM, toM }: SteepStretch, zone: Zone, stepM: number): Float64Array {
  const slice = Math.max(stepM, 20, (toM - fromM) / 100);
  const count = Math.max(1, Math.ceil((toM - fromM) / slice));
  const left = new Float64Array(count).fill(Infinity);
  const right = new Float64Array(count).fill(-Infinity);
  for (let i = 0; i < places.length; i += 2) {
    const k = Math.min(count - 1, Math.max(0, Math.floor(((places[i] as number) - fromM) / slice)));
    const t = places[i + 1] as number;
    left[k] = Math.min(left[k] as number, t - stepM / 2);
    right[k] = Math.max(right[k] as number, t + stepM / 2);
  }
  const ring: number[] = [];
  for (let pass = 0; pass < 2; pass++)
    for (let j = 0; j < count; j++) {
      const k = pass ? count - 1 - j : j;
      if (left[k] === Infinity) continue;
      const [a, b] = [fromM + k * slice, Math.min(toM, fromM + (k + 1) * slice)];
      const most = halfWidthAt(zone, b);
      const t = pass ? Math.min(most, right[k] as number) : Math.max(-most, left[k] as number);
      ring.push(pass ? b : a, t, pass ? a : b, t);
    }
  ring.push(ring[0] as number, ring[1] as number);
  return Float64Array.from(ring);
}
