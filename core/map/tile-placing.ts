/** From a tile's own units to the window wanted of it, and on to longitude and latitude. */
import type { Window } from "./clip-line.ts";
import { shareToLat, shareToLon, type TileAddress } from "./tile-grid.ts";

/** Coordinates for matching ends across tile edges: 4096 to a tile's side, counted from the world's north-west corner. */
const MATCH_UNITS = 4096;

export class Placing {
  readonly window: Window;
  readonly #extent: number;
  readonly #scale: number;
  readonly #x: number;
  readonly #y: number;
  readonly #match: number;

  constructor(from: TileAddress, at: TileAddress, extent: number) {
    const parts = 2 ** (at.z - from.z);
    const side = extent / parts;
    const x0 = (at.x - from.x * parts) * side;
    const y0 = (at.y - from.y * parts) * side;
    this.window = { x0, y0, x1: x0 + side, y1: y0 + side };
    this.#extent = extent;
    this.#scale = 1 / (extent * 2 ** from.z);
    this.#x = from.x * extent;
    this.#y = from.y * extent;
    this.#match = (MATCH_UNITS * parts) / this.#extent;
  }

  lon = (x: number): number => shareToLon((this.#x + x) * this.#scale);
  lat = (y: number): number => shareToLat((this.#y + y) * this.#scale);
  matchX = (x: number): number => (this.#x + x) * this.#match;
  matchY = (y: number): number => (this.#y + y) * this.#match;

  onEdge(x: number, y: number): boolean {
    const w = this.window;
    return x === w.x0 || x === w.x1 || y === w.y0 || y === w.y1;
  }

  toLonLat(flat: readonly number[]): Float64Array {
    const out = new Float64Array(flat.length);
    for (let i = 0; i < flat.length; i += 2) {
      out[i] = this.lon(flat[i] as number);
      out[i + 1] = this.lat(flat[i + 1] as number);
    }
    return out;
  }
}
