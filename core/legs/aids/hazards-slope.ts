/**
 * Slope and aspect of the ground on an even lattice, each place worked out once per elevation model and kept.
 * The lattice is as close as the model's own samples where they are known, else as the pixels of its tiles; closer where
 * the samples lie far apart. Its places are the same whatever leg asks, so that a leg dragged about finds nearly all of
 * them known.
 */
import { meridianRadius, parallelRadius } from "../../geodesy/ellipsoid.ts";
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { ElevationModel } from "../../terrain/elevation.ts";
import { slopeAt } from "../../terrain/slope-at.ts";
import { DEG, trueBearing } from "../../units/angle.ts";
import type { LonLat } from "../../units/position.ts";

const BLOCK = 32;
/** 8 KB each. */
const BLOCKS_KEPT = 4096;
/** Not looked at yet; NaN is unknown for good. */
const UNSEEN = -1;
/** Finer than this nothing a walker would call ground is told apart. */
const LEAST_STEP_M = 4;
/**
 * Samples farther apart than this are not taken as they are: a slope over three of them would run from valley to valley
 * and hide a steep side between two. The surface between them is looked at instead, so closely. No source.
 */
const FAR_APART_M = 45;
const BETWEEN_M = 30;

interface Block {
  readonly slope: Float32Array;
  readonly aspect: Float32Array;
}

/** One elevation model's lattice about a latitude. */
export interface SlopeLattice {
  readonly stepM: number;
  readonly dLon: number;
  readonly dLat: number;
  /** Steepness at a place of the lattice, degrees; NaN where the model does not tell. */
  slopeDeg(column: number, row: number): number;
  /** Where the ground faces, degrees from true north; NaN where level or unknown. To be asked after `slopeDeg`. */
  aspectDeg(column: number, row: number): number;
}

const kept = new WeakMap<ElevationModel, Map<string, SlopeLattice>>();

/**
 * @param near where the spacing of the model's samples is asked for
 * @param atLeastM coarser on demand, for legs so long that the model's own spacing would take too long
 */
export function slopeLattice(elevation: ElevationModel, near: LonLat, atLeastM = 0): SlopeLattice {
  const around = elevation.samplesAround?.(near);
  const ownM = around
    ? Math.min(Math.hypot(...around.column), Math.hypot(...around.row))
    : elevation.spacingM(near[1]);
  // A tenth of a metre, rounded down: near places get the same lattice, never a coarser one.
  const isFar = ownM > FAR_APART_M;
  const stepM = Math.max(LEAST_STEP_M, atLeastM, isFar ? BETWEEN_M : Math.floor(ownM * 10) / 10);
  const even = !around || isFar;
  const band = Math.max(-85, Math.min(85, Math.round(near[1] * 2) / 2));
  let lattices = kept.get(elevation);
  if (!lattices) kept.set(elevation, (lattices = new Map()));
  const key = `${band} ${stepM} ${even}`;
  let lattice = lattices.get(key);
  if (!lattice) lattices.set(key, (lattice = makeLattice(elevation, even, band, stepM)));
  return lattice;
}

/** @param even heights the step apart are taken, not the model's own samples */
function makeLattice(elevation: ElevationModel, even: boolean, band: number, stepM: number): SlopeLattice {
  // At the band's edge nearer to a pole columns lie closer; nowhere in it farther apart than the step.
  const widest = Math.max(0, Math.abs(band) - 0.25);
  const dLon = stepM / (parallelRadius(widest) * DEG);
  const dLat = stepM / (meridianRadius(90) * DEG);
  const blocks = new Map<number, Block>();
  let [lastX, lastY] = [NaN, NaN];
  let last: Block | null = null;
  const blockOf = (column: number, row: number): Block => {
    const x = Math.floor(column / BLOCK);
    const y = Math.floor(row / BLOCK);
    if (x === lastX && y === lastY && last) return last;
    const key = (y + 2 ** 22) * 2 ** 24 + x + 2 ** 23;
    let block = blocks.get(key);
    if (!block) {
      if (blocks.size >= BLOCKS_KEPT) blocks.clear();
      const slope = new Float32Array(BLOCK * BLOCK).fill(UNSEEN);
      block = { slope, aspect: new Float32Array(BLOCK * BLOCK) };
      blocks.set(key, block);
    }
    [lastX, lastY, last] = [x, y, block];
    return block;
  };
  const within = (column: number, row: number): number =>
    (row - Math.floor(row / BLOCK) * BLOCK) * BLOCK + column - Math.floor(column / BLOCK) * BLOCK;
  return {
    stepM,
    dLon,
    dLat,
    slopeDeg(column, row) {
      const block = blockOf(column, row);
      const i = within(column, row);
      const known = block.slope[i] as number;
      if (known !== UNSEEN) return known;
      const lonLat: LonLat = [column * dLon, row * dLat];
      if (even) {
        if (fillBlock(elevation, block, column, row, dLon, dLat)) return block.slope[i] as number;
        const height = (dr: number, dc: number): number =>
          elevation.at([(column + dc) * dLon, (row + dr) * dLat]);
        const [eastM, northM] = stepsM(dLon, dLat, lonLat[1]);
        if (setSlope(block, i, height, eastM, northM)) return block.slope[i] as number;
      } else {
        const ground = slopeAt(elevation, lonLat);
        block.aspect[i] = ground?.aspect ?? NaN;
        if (ground) return (block.slope[i] = ground.deg);
      }
      // What was not read yet may be known another time.
      block.slope[i] = elevation.isPrepared([...lonLat, ...lonLat]) ? NaN : UNSEEN;
      return NaN;
    },
    aspectDeg: (column, row) => blockOf(column, row).aspect[within(column, row)] as number,
  };
}

const SIDE = BLOCK + 2;
const netLons = new Float64Array(SIDE);
const netLats = new Float64Array(SIDE);
const netHeights = new Float32Array(SIDE * SIDE);

/**
 * A block at once where the model does not tell its own samples: neighbouring places share the heights they are worked
 * out from. By the same formula as `slopeAt`.
 * @returns false, and nothing done, where heights cannot be read so or not all of them have been read
 */
function fillBlock(
  elevation: ElevationModel,
  block: Block,
  column: number,
  row: number,
  dLon: number,
  dLat: number,
): boolean {
  if (!elevation.readNet) return false;
  const c0 = Math.floor(column / BLOCK) * BLOCK;
  const r0 = Math.floor(row / BLOCK) * BLOCK;
  const [west, south] = [(c0 - 1) * dLon, (r0 - 1) * dLat];
  if (!elevation.isPrepared([west, south, west + (SIDE - 1) * dLon, south + (SIDE - 1) * dLat])) return false;
  for (let k = 0; k < SIDE; k++) {
    netLons[k] = (c0 - 1 + k) * dLon;
    netLats[k] = (r0 - 1 + k) * dLat;
  }
  elevation.readNet(netLons, netLats, netHeights);
  for (let r = 0; r < BLOCK; r++) {
    const [eastM, northM] = stepsM(dLon, dLat, netLats[r + 1] as number);
    for (let c = 0; c < BLOCK; c++) {
      const height = (dr: number, dc: number): number =>
        netHeights[(r + 1 + dr) * SIDE + c + 1 + dc] as number;
      setSlope(block, r * BLOCK + c, height, eastM, northM);
    }
  }
  return true;
}

/** Less is the rounding of heights: as for `slopeAt`. */
const LEVEL = 1e-6;

const stepsM = (dLon: number, dLat: number, lat: number): readonly [eastM: number, northM: number] => [
  dLon * DEG * parallelRadius(lat),
  dLat * DEG * meridianRadius(lat),
];

/**
 * One place of a block, by the same formula as `slopeAt`.
 * @param height so many rows to the north of the place and columns to the east, metres
 * @returns false where a height is missing; slope and aspect are NaN then
 */
function setSlope(
  { slope, aspect }: Block,
  i: number,
  height: (dr: number, dc: number) => number,
  eastM: number,
  northM: number,
): boolean {
  const west3 = height(1, -1) + 2 * height(0, -1) + height(-1, -1);
  const east3 = height(1, 1) + 2 * height(0, 1) + height(-1, 1);
  const north3 = height(1, -1) + 2 * height(1, 0) + height(1, 1);
  const south3 = height(-1, -1) + 2 * height(-1, 0) + height(-1, 1);
  const east = (east3 - west3) / (8 * eastM);
  const north = (north3 - south3) / (8 * northM);
  const steep = Math.hypot(east, north);
  slope[i] = Math.atan(steep) / DEG;
  aspect[i] = steep > LEVEL ? trueBearing(Math.atan2(-east, -north) / DEG) : NaN;
  return !Number.isNaN(steep);
}

/** A lattice seen from a leg's frame. */
export interface SlopeField {
  readonly lattice: SlopeLattice;
  /** The direction of true north in the frame at the leg's middle, degrees from the leg towards its right. */
  readonly northDeg: number;
  /** Column and row of a place in the frame, not rounded: within a metre up to 4 km from the leg's middle. */
  toLattice(s: number, t: number): readonly [column: number, row: number];
  /** At the lattice place nearest to a place of the frame. */
  slopeDeg(s: number, t: number): number;
  aspectDeg(s: number, t: number): number;
}

export function slopeField(frame: LegFrame, elevation: ElevationModel, atLeastM = 0): SlopeField {
  const s0 = frame.lengthM / 2;
  const middle = frame.toLonLat(s0, 0);
  const lattice = slopeLattice(elevation, middle, atLeastM);
  const { dLon, dLat } = lattice;
  // The frame is flat and the lattice nearly so: one step along and one aside give the turn between them.
  const reach = 500;
  const along = frame.toLonLat(s0 + reach, 0);
  const aside = frame.toLonLat(s0, reach);
  const c0 = middle[0] / dLon;
  const r0 = middle[1] / dLat;
  const cs = (along[0] - middle[0]) / dLon / reach;
  const rs = (along[1] - middle[1]) / dLat / reach;
  const ct = (aside[0] - middle[0]) / dLon / reach;
  const rt = (aside[1] - middle[1]) / dLat / reach;
  const columnOf = (s: number, t: number): number => Math.round(c0 + (s - s0) * cs + t * ct);
  const rowOf = (s: number, t: number): number => Math.round(r0 + (s - s0) * rs + t * rt);
  return {
    lattice,
    northDeg: northInFrame(frame),
    toLattice: (s, t) => [c0 + (s - s0) * cs + t * ct, r0 + (s - s0) * rs + t * rt],
    slopeDeg: (s, t) => lattice.slopeDeg(columnOf(s, t), rowOf(s, t)),
    aspectDeg: (s, t) => lattice.aspectDeg(columnOf(s, t), rowOf(s, t)),
  };
}

/** The direction of true north in a leg's frame at the leg's middle, degrees from the leg towards its right. */
export function northInFrame(frame: LegFrame): number {
  const [s0, t0] = [frame.lengthM / 2, 0];
  const [lon, lat] = frame.toLonLat(s0, t0);
  const [s, t] = frame.toFrame([lon, lat + 0.01 > 90 ? lat - 0.01 : lat + 0.01]);
  const turn = lat + 0.01 > 90 ? 180 : 0;
  return Math.atan2(t - t0, s - s0) / DEG + turn;
}
