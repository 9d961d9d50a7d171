/** The ground of a map, or a scanned sheet, drawn as a picture in the colours of the theme. */
import { type Archive, openArchive } from "../../core/map/archive.ts";
import { decodeTile } from "../../core/map/decode-tile.ts";
import type { AreaFeature, LineFeature } from "../../core/map/features.ts";
import type { Kind } from "../../core/map/kinds.ts";
import type { MapInfo } from "../../core/map/metadata.ts";
import { readInfo } from "../../core/map/read-info.ts";
import { layerReaders } from "../../core/map/role-readers.ts";
import {
  intersectBbox,
  latToShare,
  lonToShare,
  shareToLat,
  shareToLon,
  tileBbox,
  tileCount,
  tilesMeeting,
} from "../../core/map/tile-grid.ts";
import type { Bbox } from "../../core/units/position.ts";
import type { MapEntry } from "../../electron/contract.ts";
import { GROUND_DECODERS } from "../archive/ground-decoders.ts";
import { rangeSource } from "../archive/range-source.ts";
import { host } from "../host/host.ts";
import { type MapColour, type MapColours, readMapColours } from "../theme/map-colours.ts";
import { tintPixels } from "../map/sheet-tint.ts";
import { archivesOf } from "./map-case.ts";

/** For fine screens. */
const RATIO = 2;
const MOST_TILES = 6;

const AREAS: readonly (readonly [Kind, MapColour])[] = [
  ["wood", "wood"],
  ["wetland", "water-wash"],
  ["water", "water-wash"],
];
/** Widths in pixels of the picture. */
const LINES: readonly (readonly [Kind, MapColour, number])[] = [
  ["contour", "contour", 0.5],
  ["cliff", "cliff", 0.8],
  ["shore", "water", 0.6],
  ["stream", "water", 0.8],
  ["river", "water", 1.2],
  ["path", "works", 0.6],
  ["rail", "works", 0.8],
  ["road", "works", 1.1],
];

/** What part of the world a picture shows. */
export interface PictureFrame {
  readonly width: number;
  readonly height: number;
  /** The picture's upper left corner as shares of the square world, Mercator. */
  readonly left: number;
  readonly top: number;
  /** Pixels of the picture across the whole world. */
  readonly scale: number;
}

/** A box in the middle of a picture. @param box longitudes and latitudes @param margin around it, pixels */
export function frameAround(
  [west, south, east, north]: Bbox,
  { width, height, margin }: { readonly width: number; readonly height: number; readonly margin: number },
): PictureFrame {
  const [left, right, top, bottom] = [
    lonToShare(west),
    lonToShare(east),
    latToShare(north),
    latToShare(south),
  ];
  const scale = Math.min(
    (width - 2 * margin) / Math.max(SMALLEST, right - left),
    (height - 2 * margin) / Math.max(SMALLEST, bottom - top),
  );
  return {
    width,
    height,
    scale,
    left: (left + right - width / scale) / 2,
    top: (top + bottom - height / scale) / 2,
  };
}
/** A place alone is shown with some metres around it, as a share of the world's width. */
const SMALLEST = 1e-7;

/** Pixels of the picture, from its upper left corner. */
export const placeIn = ({ left, top, scale }: PictureFrame, lon: number, lat: number): [number, number] => [
  (lonToShare(lon) - left) * scale,
  (latToShare(lat) - top) * scale,
];

/** What of the map the picture shows; null when nothing. */
function shownOf({ left, top, scale, width, height }: PictureFrame, { bounds }: MapInfo): Bbox | null {
  const [right, bottom] = [left + width / scale, top + height / scale];
  return intersectBbox([shareToLon(left), shareToLat(bottom), shareToLon(right), shareToLat(top)], bounds);
}

/** @returns address of the picture, to be revoked when it is no longer shown; null when it would be empty */
export async function groundPicture(
  entry: MapEntry,
  frameOf: (info: MapInfo) => PictureFrame,
): Promise<string | null> {
  const { archive: address } = archivesOf(await host.openMap(entry.id));
  const source = rangeSource(address.url, address.key);
  const archive = await openArchive(source, GROUND_DECODERS);
  const info = await readInfo(source, GROUND_DECODERS);
  const frame = frameOf(info);
  const shown = shownOf(frame, info);
  const canvas = document.createElement("canvas");
  canvas.width = frame.width * RATIO;
  canvas.height = frame.height * RATIO;
  const pen = canvas.getContext("2d");
  if (!pen || !shown) return null;
  pen.scale(RATIO, RATIO);
  const colours = readMapColours();
  pen.fillStyle = colours.ground;
  pen.fillRect(0, 0, frame.width, frame.height);
  const tiles = tilesOf(archive, info, shown);
  if (info.pictures) await drawSheet(pen, tiles, frame);
  else await drawMap(pen, tiles, layerReaders(info), frame, colours);
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve));
  return blob && URL.createObjectURL(blob);
}

/** The finest zoom at which a few tiles cover what is shown. */
function zoomFor({ minZoom, maxZoom }: MapInfo, shown: Bbox): number {
  let zoom = minZoom;
  while (zoom < maxZoom && tileCount(tilesMeeting(shown, zoom + 1)) <= MOST_TILES) zoom++;
  return zoom;
}

async function* tilesOf(archive: Archive, info: MapInfo, shown: Bbox) {
  const z = zoomFor(info, shown);
  const { x0, y0, x1, y1 } = tilesMeeting(shown, z);
  let left = MOST_TILES * 2;
  for (let y = y0; y <= y1; y++)
    for (let x = x0; x <= x1 && left-- > 0; x++) {
      // A damaged tile leaves a gap in the picture; opening the map says so.
      const bytes = await archive.readTile(z, x, y).catch(() => null);
      if (bytes) yield { at: { z, x, y }, bytes };
    }
}

type Tiles = ReturnType<typeof tilesOf>;

async function drawMap(
  pen: CanvasRenderingContext2D,
  tiles: Tiles,
  readers: ReturnType<typeof layerReaders>,
  frame: PictureFrame,
  colours: MapColours,
): Promise<void> {
  const lines: LineFeature[] = [];
  const areas: AreaFeature[] = [];
  for await (const { at, bytes } of tiles) {
    const tile = decodeTile(bytes, at, at, readers);
    for (const line of tile.lines) lines.push(line);
    for (const area of tile.areas) areas.push(area);
  }
  const trace = (coords: Float64Array): void => {
    for (let i = 0; i < coords.length; i += 2)
      pen[i === 0 ? "moveTo" : "lineTo"](...placeIn(frame, coords[i]!, coords[i + 1]!));
  };
  for (const [kind, colour] of AREAS) {
    pen.fillStyle = colours[colour];
    pen.beginPath();
    for (const area of areas) if (area.kind === kind) for (const ring of area.rings) trace(ring);
    pen.fill("evenodd");
  }
  pen.lineJoin = "round";
  for (const [kind, colour, width] of LINES)
    for (const index of kind === "contour" ? [false, true] : [false]) {
      pen.strokeStyle = colours[index ? "contour-index" : colour];
      pen.lineWidth = width * (index ? 1.5 : 1);
      pen.beginPath();
      for (const line of lines) if (line.kind === kind && line.index === index) trace(line.coords);
      pen.stroke();
    }
}

async function drawSheet(pen: CanvasRenderingContext2D, tiles: Tiles, frame: PictureFrame): Promise<void> {
  for await (const { at, bytes } of tiles) {
    const picture = await createImageBitmap(new Blob([new Uint8Array(bytes)])).catch(() => null);
    if (!picture) continue;
    const [west, south, east, north] = tileBbox(at);
    const [left, top] = placeIn(frame, west, north);
    const [right, bottom] = placeIn(frame, east, south);
    pen.drawImage(picture, left, top, right - left, bottom - top);
    picture.close();
  }
  if (document.documentElement.dataset["theme"] !== "night") return;
  const { width, height } = pen.canvas;
  const pixels = pen.getImageData(0, 0, width, height);
  tintPixels(pixels.data, "night");
  pen.putImageData(pixels, 0, 0);
}
