/** The slope shading: whether it is shown, and its tiles, worked out on demand and kept while the map is open. */
import { computed, signal } from "@preact/signals";
import { addProtocol } from "maplibre-gl";
import type { SlopeTile } from "../../core/terrain/slope-tile.ts";
import { worker } from "../analysis/worker.ts";
import { openMap } from "../map-case/map-case.ts";
import { slopeWords } from "../words/slope-words.ts";
import { channels, paintSlope, SHARP } from "./paint-slope.ts";

/** Of a tile on the screen, pixels. */
export const SLOPE_TILE_PX = 256;
/** A lattice is 17 kB at most. */
const MOST_KEPT = 400;

export const slopeWanted = signal(false);

/** Why there is none to show; null when there is. */
export const slopeRefusal = computed<string | null>(() =>
  openMap.value === null ? slopeWords.noMap : openMap.value.tiles.terrain ? null : slopeWords.noTerrain,
);

export const slopeShown = computed(() => slopeWanted.value && slopeRefusal.value === null);

export function toggleSlope(): void {
  slopeWanted.value = !slopeWanted.value;
}

/** Tile address for a style's source, null when it is not shown: another one for another map or colour, so that no old picture is shown. */
export function slopeTiles(colour: string): string | null {
  const map = openMap.value;
  if (!slopeShown.value || !map) return null;
  return `slope://${encodeURIComponent(map.opened.id)}~${opened(map)}/${colour}/{z}/{x}/{y}`;
}

const counted = new WeakMap<object, number>();
let count = 0;
/** Counts the openings of maps: a file replaced under its name has other ground. */
function opened(map: object): number {
  if (!counted.has(map)) counted.set(map, ++count);
  return counted.get(map) ?? 0;
}

const kept = new Map<string, SlopeTile>();

async function slopesOf(map: string, z: number, x: number, y: number, stop: AbortSignal) {
  const key = `${map}/${z}/${x}/${y}`;
  const before = kept.get(key);
  if (before) return before;
  const found = await worker.ask("slopeTile", [{ z, x, y }], stop);
  if (!found) return null;
  // The oldest goes first.
  if (kept.size >= MOST_KEPT) kept.delete(kept.keys().next().value as string);
  kept.set(key, found);
  return found;
}

addProtocol("slope", async ({ url }, controller) => {
  const [, map, colour, z, x, y] = /^slope:\/\/([^/]+)\/([0-9a-f]+)\/(\d+)\/(\d+)\/(\d+)$/.exec(url) ?? [];
  const tile = map && colour ? await slopesOf(map, Number(z), Number(x), Number(y), controller.signal) : null;
  if (!tile) return { data: new ArrayBuffer(0) };
  const px = SLOPE_TILE_PX * SHARP;
  const picture = new ImageData(paintSlope(tile, px, channels(colour ?? "")), px, px);
  return { data: await createImageBitmap(picture) };
});
