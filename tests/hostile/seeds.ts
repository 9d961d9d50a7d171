/** Good files to damage: the fixtures of the tests, files made here, and those of a folder that LEGWRIGHT_CORPUS names. */
import { readdirSync, readFileSync, statSync } from "node:fs";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { tileBbox } from "../../core/map/tile-grid.ts";
import { directoryBytes, rawArchive } from "../core/map/support/raw-archive.ts";
import { METADATA } from "../core/map/support/archives.ts";
import { vectorTileBytes } from "../core/map/support/vector-tile-bytes.ts";

export interface Seed {
  readonly name: string;
  readonly bytes: Uint8Array;
}

const at = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));
/** A larger one takes longer than it teaches: the whole run must end. */
const MOST_BYTES = 2 ** 21 + 2 ** 16;

export const fileSeed = (path: string): Seed => ({
  name: basename(path),
  bytes: new Uint8Array(readFileSync(path)),
});

function filesUnder(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    return entry.isDirectory() ? filesUnder(path) : [path];
  });
}

/** All files whose names end so, the smaller ones named often. */
export function seedsOf(
  ending: RegExp,
  folders: readonly string[] = ["tests/fixtures", "sample-maps"],
): Seed[] {
  const corpus = process.env["LEGWRIGHT_CORPUS"];
  return [...folders.map(at), ...(corpus ? [corpus] : [])]
    .flatMap(filesUnder)
    .filter((path) => ending.test(path) && statSync(path).size <= MOST_BYTES)
    .sort()
    .map(fileSeed);
}

export const textSeed = (name: string, text: string): Seed => ({
  name,
  bytes: new TextEncoder().encode(text),
});

/** A tile and its place. */
export const TILE = { z: 14, x: 9122, y: 9840 };
export const TILE_BOX = tileBbox(TILE);

export const VECTOR_TILE = vectorTileBytes([
  {
    name: "contour",
    features: [500, 510].map((ele, i) => ({
      type: "line",
      parts: [[[-80, 600 * i + 300], [2000, 600 * i + 500], [4200, 600 * i + 200]]], // prettier-ignore
      properties: { ele, index: ele === 500 },
    })),
  },
  { name: "path", features: [{ type: "line", parts: [[[1000, -80], [1100, 2000], [900, 4200]]], properties: { name: "Low Path" } }] }, // prettier-ignore
  { name: "water", features: [{ type: "polygon", parts: [[[2000, 2000], [3000, 2100], [2600, 3000]]], properties: { ele: 500 } }] }, // prettier-ignore
  { name: "peak", features: [{ type: "point", parts: [[[3000, 700]]], properties: { name: "Knoll", ele: 541 } }] }, // prettier-ignore
]);

/** An archive in which nothing is packed, so that damage meets the reader and not a check value before it. */
export const plainArchive = (leaves: boolean): Uint8Array =>
  rawArchive({
    tiles: [{ ...TILE, bytes: VECTOR_TILE }],
    bounds: TILE_BOX,
    metadata: { legwright: METADATA },
    inner: 1,
    tilePacking: 1,
    pack: (bytes) => bytes,
    leaves,
  });

/** Root and leaf directories that point at one another. */
export const loopingArchive = (): Uint8Array => {
  const leafBytes = directoryBytes([{ id: 0, run: 0, length: 7, offset: 0 }]);
  return rawArchive({
    tiles: [{ ...TILE, bytes: VECTOR_TILE }],
    bounds: TILE_BOX,
    metadata: { legwright: METADATA },
    inner: 1,
    tilePacking: 1,
    pack: (bytes) => bytes,
    leafBytes,
    root: [{ id: 0, run: 0, length: leafBytes.length, offset: 0 }],
  });
};
