/** A small picture of a map, drawn from the tiles of a low zoom in the colours of the theme. */
import { type Archive, openArchive } from "../../core/map/archive.ts";
import { decodeTile } from "../../core/map/decode-tile.ts";
import type { AreaFeature, LineFeature } from "../../core/map/features.ts";
import type { Kind } from "../../core/map/kinds.ts";
import type { MapInfo } from "../../core/map/metadata.ts";
import { readInfo } from "../../core/map/read-info.ts";
import { layerReaders } from "../../core/map/role-readers.ts";
import { latToShare, lonToShare, tileBbox, tileCount, tilesMeeting } from "../../core/map/tile-grid.ts";
import type { MapEntry } from "../../electron/contract.ts";
import { GROUND_DECODERS } from "../archive/ground-decoders.ts";
import { rangeSource } from "../archive/range-source.ts";
import { host } from "../host/host.ts";
import { type MapColour, type MapColours, readMapColours } from "../theme/map-colours.ts";
import { tintPixels } from "../map/sheet-tint.ts";
import { archivesOf } from "./map-case.ts";

export const PREVIEW_PX = { width: 176, height: 132 };
/** For fine screens. */
const RATIO = 2;
const MOST_TILES = 6;
/** Around the map, pixels of the picture. */
const MARGIN = 6;

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

let queue: Promise<unknown> = Promise.resolve();
const drawn = new Map<string, Promise<string | null>>();

/**
 * Address of the picture; null when none can be drawn. One is drawn at a time and kept as long as the file and the theme
 * are the same.
 */
export function previewOf(entry: MapEntry, theme: string): Promise<string | null> {
  const key = `${entry.id} ${entry.tag} ${theme}`;
  let picture = drawn.get(key);
  if (!picture) {
    picture = queue.then(() => draw(entry)).catch(() => null);
    queue = picture;
    drawn.set(key, picture);
  }
  return picture;
}

async function draw(entry: MapEntry): Promise<string | null> {
  const { archive: address } = archivesOf(await host.openMap(entry.id));
  const source = rangeSource(address.url, address.key);
  const archive = await openArchive(source, GROUND_DECODERS);
  const info = await readInfo(source, GROUND_DECODERS);
  const canvas = document.createElement("canvas");
  canvas.width = PREVIEW_PX.width * RATIO;
  canvas.height = PREVIEW_PX.height * RATIO;
  const pen = canvas.getContext("2d");
  if (!pen) return null;
  const colours = readMapColours();
  pen.fillStyle = colours.ground;
  pen.fillRect(0, 0, canvas.width, canvas.height);
  const frame = frameOf(info, canvas);
  if (info.pictures) await drawSheet(pen, archive, info, frame);
  else await drawMap(pen, archive, info, frame, colours);
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve));
  return blob && URL.createObjectURL(blob);
}

interface Frame {
  readonly x: (lon: number) => number;
  readonly y: (lat: number) => number;
}

/** The whole of a map in the middle of the picture. */
function frameOf(
  { bounds: [west, south, east, north] }: MapInfo,
  { width, height }: HTMLCanvasElement,
): Frame {
  const [left, right, top, bottom] = [
    lonToShare(west),
    lonToShare(east),
    latToShare(north),
    latToShare(south),
  ];
  const margin = MARGIN * RATIO;
  const scale = Math.min((width - 2 * margin) / (right - left), (height - 2 * margin) / (bottom - top));
  const dx = (width - (right - left) * scale) / 2;
  const dy = (height - (bottom - top) * scale) / 2;
  return {
    x: (lon) => dx + (lonToShare(lon) - left) * scale,
    y: (lat) => dy + (latToShare(lat) - top) * scale,
  };
}

/** The finest zoom at which a few tiles cover the map. */
function zoomFor({ bounds, minZoom, maxZoom }: MapInfo): number {
  let zoom = minZoom;
  while (zoom < maxZoom && tileCount(tilesMeeting(bounds, zoom + 1)) <= MOST_TILES) zoom++;
  return zoom;
}

async function* tilesOf(archive: Archive, info: MapInfo) {
  const z = zoomFor(info);
  const { x0, y0, x1, y1 } = tilesMeeting(info.bounds, z);
  let left = MOST_TILES * 2;
  for (let y = y0; y <= y1; y++)
    for (let x = x0; x <= x1 && left-- > 0; x++) {
      // A damaged tile leaves a gap in the picture; opening the map says so.
      const bytes = await archive.readTile(z, x, y).catch(() => null);
      if (bytes) yield { at: { z, x, y }, bytes };
    }
}

async function drawMap(
  pen: CanvasRenderingContext2D,
  archive: Archive,
  info: MapInfo,
  frame: Frame,
  colours: MapColours,
): Promise<void> {
  const lines: LineFeature[] = [];
  const areas: AreaFeature[] = [];
  const readers = layerReaders(info);
  for await (const { at, bytes } of tilesOf(archive, info)) {
    const tile = decodeTile(bytes, at, at, readers);
    for (const line of tile.lines) lines.push(line);
    for (const area of tile.areas) areas.push(area);
  }
  const trace = (coords: Float64Array): void => {
    for (let i = 0; i < coords.length; i += 2)
      pen[i === 0 ? "moveTo" : "lineTo"](frame.x(coords[i]!), frame.y(coords[i + 1]!));
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
      pen.lineWidth = width * RATIO * (index ? 1.5 : 1);
      pen.beginPath();
      for (const line of lines) if (line.kind === kind && line.index === index) trace(line.coords);
      pen.stroke();
    }
}

async function drawSheet(
  pen: CanvasRenderingContext2D,
  archive: Archive,
  info: MapInfo,
  frame: Frame,
): Promise<void> {
  for await (const { at, bytes } of tilesOf(archive, info)) {
    const picture = await createImageBitmap(new Blob([new Uint8Array(bytes)])).catch(() => null);
    if (!picture) continue;
    const [west, south, east, north] = tileBbox(at);
    pen.drawImage(
      picture,
      frame.x(west),
      frame.y(north),
      frame.x(east) - frame.x(west),
      frame.y(south) - frame.y(north),
    );
    picture.close();
  }
  if (document.documentElement.dataset["theme"] !== "night") return;
  const { width, height } = pen.canvas;
  const pixels = pen.getImageData(0, 0, width, height);
  tintPixels(pixels.data, "night");
  pen.putImageData(pixels, 0, 0);
}
