/** What any archive says of itself, whether it holds vector tiles or pictures of a map. */
import { Fault } from "../fault.ts";
import { type Archive, openArchive, TileType } from "./archive.ts";
import { peekLayers } from "./layer-fields.ts";
import { boundsOf, declaresRoles, mapInfo } from "./map-info.ts";
import type { MapInfo } from "./metadata.ts";
import { isTileSize, type PictureSize, pictureSize, type PictureType } from "./pictures.ts";
import type { ByteSource } from "./source.ts";
import { latToShare, lonToShare, type TileAddress, tilesMeeting } from "./tile-grid.ts";
import type { ArchiveDecoders } from "./unpack.ts";

const PICTURES: Partial<Record<TileType, PictureType>> = {
  [TileType.Png]: "png",
  [TileType.Jpeg]: "jpeg",
  [TileType.Webp]: "webp",
};

/** The kind of pictures an archive holds; null for vector tiles. @throws Fault "bad-archive" for what cannot be drawn */
export function picturesIn({ header, key }: Archive): PictureType | null {
  if (header.tileType === TileType.Mvt || header.tileType === TileType.Unknown) return null;
  const pictures = PICTURES[header.tileType];
  if (pictures) return pictures;
  throw new Fault(
    "bad-archive",
    "The archive holds tiles of a kind that cannot be drawn here.",
    key,
    "Choose an archive of vector tiles (MVT), or of pictures in PNG, JPEG or WebP.",
  );
}

/** @throws Fault "bad-archive" when it is damaged or holds what cannot be drawn; what the source throws */
export async function readInfo(source: ByteSource, decoders: ArchiveDecoders = {}): Promise<MapInfo> {
  const archive = await openArchive(source, decoders);
  const pictures = picturesIn(archive);
  if (pictures) return { ...mapInfo(archive, []), pictures };
  return mapInfo(archive, declaresRoles(archive) ? [] : await peekLayers(archive));
}

/** An archive of pictures of a map, opened to be drawn. */
export interface Sheet {
  readonly archive: Archive;
  readonly info: MapInfo & { readonly pictures: PictureType };
  /** Of its tiles, pixels across. */
  readonly tileSize: number;
}

/**
 * Opens an archive of pictures, and looks at one of them.
 * @throws Fault "bad-archive" when it holds none, or none that can be drawn
 */
export async function openSheet(source: ByteSource, decoders: ArchiveDecoders = {}): Promise<Sheet> {
  const archive = await openArchive(source, decoders);
  const pictures = picturesIn(archive);
  const bad = (what: string): Fault =>
    new Fault("bad-archive", what, source.key, "Copy the file again or make it anew.");
  if (!pictures) throw bad("The archive holds vector tiles, not pictures.");
  const size = await sizeOfOne(archive);
  if (!size) throw bad("No picture of the sheet can be read.");
  if (!isTileSize(size))
    throw bad(`The sheet's pictures are ${size.width} by ${size.height} pixels: no tile is.`);
  return { archive, info: { ...mapInfo(archive, []), pictures }, tileSize: size.width };
}

/** Tiles looked for, beside those in the middle. No source. */
const MOST_LOOKS = 1000;

/** Of a tile about the middle, else of the first there is; all are alike. */
async function sizeOfOne(archive: Archive): Promise<PictureSize | null> {
  for (const { z, x, y } of likelyTiles(archive)) {
    const bytes = await archive.readTile(z, x, y).catch((thrown: unknown) => {
      if (thrown instanceof Fault && thrown.code === "bad-tile") return null;
      throw thrown;
    });
    const size = bytes && pictureSize(bytes);
    if (size) return size;
  }
  return null;
}

/** The middle of each zoom, then what lies around it: a sheet may have a hole, or be no rectangle. */
function* likelyTiles(archive: Archive): Generator<TileAddress> {
  const bounds = boundsOf(archive);
  const [west, south, east, north] = bounds;
  const { minZoom, maxZoom } = archive.header;
  for (let z = minZoom; z <= maxZoom; z++)
    yield {
      z,
      x: Math.floor(lonToShare((west + east) / 2) * 2 ** z),
      y: Math.floor(latToShare((south + north) / 2) * 2 ** z),
    };
  let left = MOST_LOOKS;
  for (let z = minZoom; z <= maxZoom; z++) {
    const { x0, y0, x1, y1 } = tilesMeeting(bounds, z);
    for (let y = y0; y <= y1; y++)
      for (let x = x0; x <= x1; x++) {
        if (left-- === 0) return;
        yield { z, x, y };
      }
  }
}
