/**
 * Cuts lines into a block of tiles in one walk along each: stretches of a few positions are asked which tiles their
 * box touches, and only those tiles look at them. A contour of a thousand positions lies in a dozen tiles of hundreds.
 */
import { EXTENT } from "./vector-tile-layer.ts";

/** 64 of 4096 units: half a pixel of stroke at eight times its zoom. */
export const BUFFER = 64;
/** Positions looked at together. */
const STRETCH = 24;

/** Tiles x0 to x1 by y0 to y1 of a zoom. */
export interface TileBlock {
  readonly zoom: number;
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

const firstTile = (least: number): number => Math.floor((least - BUFFER) / EXTENT);
const lastTile = (most: number): number => Math.floor((most + BUFFER) / EXTENT);

/** Receives `n` positions of `part`, in the units of the zoom, good until it returns. */
export type TakePart = (x: number, y: number, part: Int32Array, n: number) => void;

export class LineCutter {
  private readonly across: number;
  /** By tile of the block: the stretch being gathered, from one position to another; −1 for none. */
  private readonly from: Int32Array;
  private readonly to: Int32Array;
  private readonly touched: number[] = [];
  private part = new Int32Array(1 << 10);
  private length = 0;

  constructor(
    private readonly block: TileBlock,
    private readonly take: TakePart,
  ) {
    this.across = block.x1 - block.x0 + 1;
    const tiles = this.across * (block.y1 - block.y0 + 1);
    this.from = new Int32Array(tiles).fill(-1);
    this.to = new Int32Array(tiles);
  }

  /** @param line the first `n` positions of it */
  cut(line: Int32Array, n: number): void {
    const { x0, y0, x1, y1 } = this.block;
    for (let start = 0; start + 1 < n; start += STRETCH) {
      const end = Math.min(n - 1, start + STRETCH);
      let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
      for (let i = start; i <= end; i++) {
        const x = line[2 * i]!;
        const y = line[2 * i + 1]!;
        if (x < left) left = x;
        if (x > right) right = x;
        if (y < top) top = y;
        if (y > bottom) bottom = y;
      }
      const lastX = Math.min(x1, lastTile(right));
      const lastY = Math.min(y1, lastTile(bottom));
      for (let y = Math.max(y0, firstTile(top)); y <= lastY; y++)
        for (let x = Math.max(x0, firstTile(left)); x <= lastX; x++) {
          const tile = (y - y0) * this.across + x - x0;
          if (this.from[tile]! >= 0 && this.to[tile] !== start) this.clip(tile, line);
          if (this.from[tile]! < 0) {
            this.from[tile] = start;
            this.touched.push(tile);
          }
          this.to[tile] = end;
        }
    }
    for (const tile of this.touched) if (this.from[tile]! >= 0) this.clip(tile, line);
    this.touched.length = 0;
  }

  private push(x: number, y: number): void {
    if (this.length + 2 > this.part.length) {
      const larger = new Int32Array(this.part.length * 2);
      larger.set(this.part);
      this.part = larger;
    }
    this.part[this.length++] = x;
    this.part[this.length++] = y;
  }

  /** Cuts the stretch gathered for a tile to its box; cut places are rounded to whole units. */
  private clip(tile: number, line: Int32Array): void {
    const tx = this.block.x0 + (tile % this.across);
    const ty = this.block.y0 + Math.floor(tile / this.across);
    const first = this.from[tile]!;
    const last = this.to[tile]!;
    this.from[tile] = -1;
    const left = tx * EXTENT - BUFFER;
    const right = (tx + 1) * EXTENT + BUFFER;
    const top = ty * EXTENT - BUFFER;
    const bottom = (ty + 1) * EXTENT + BUFFER;
    const end = (): void => {
      if (this.length >= 4) this.take(tx, ty, this.part, this.length / 2);
      this.length = 0;
    };
    let ax = line[2 * first]!;
    let ay = line[2 * first + 1]!;
    let inside = ax >= left && ax <= right && ay >= top && ay <= bottom;
    if (inside) this.push(ax, ay);
    for (let i = first + 1; i <= last; i++) {
      const bx = line[2 * i]!;
      const by = line[2 * i + 1]!;
      const within = bx >= left && bx <= right && by >= top && by <= bottom;
      if (inside && within) this.push(bx, by);
      else {
        // Liang and Barsky: the share of the side that lies inside.
        const dx = bx - ax;
        const dy = by - ay;
        let t0 = 0;
        let t1 = 1;
        if (dx > 0) {
          t0 = Math.max(t0, (left - ax) / dx);
          t1 = Math.min(t1, (right - ax) / dx);
        } else if (dx < 0) {
          t0 = Math.max(t0, (right - ax) / dx);
          t1 = Math.min(t1, (left - ax) / dx);
        } else if (ax < left || ax > right) t1 = -1;
        if (dy > 0) {
          t0 = Math.max(t0, (top - ay) / dy);
          t1 = Math.min(t1, (bottom - ay) / dy);
        } else if (dy < 0) {
          t0 = Math.max(t0, (bottom - ay) / dy);
          t1 = Math.min(t1, (top - ay) / dy);
        } else if (ay < top || ay > bottom) t1 = -1;
        if (t0 <= t1) {
          if (!inside) this.push(Math.round(ax + t0 * dx), Math.round(ay + t0 * dy));
          if (within) this.push(bx, by);
          else this.push(Math.round(ax + t1 * dx), Math.round(ay + t1 * dy));
        }
        if (!within) end();
      }
      ax = bx;
      ay = by;
      inside = within;
    }
    end();
  }
}
