/** Pictures whose colours are heights: which can be read, and reading them. */
import { convertIndexedToRgb, decode as decodePng } from "fast-png";
import { Fault } from "../fault.ts";
import type { ArchiveDecoders } from "../map/unpack.ts";
import type { Pixels } from "./height-encoding.ts";

/**
 * Decodes a lossless WebP picture, or fails. Its colours must come out exactly as they were put in: no colour
 * management, and none multiplied by its opacity.
 */
export type PictureDecoder = (bytes: Uint8Array) => Pixels | Promise<Pixels>;

/** What a host lends to reading a map and its heights; what it lacks is left out. */
export interface GroundDecoders extends ArchiveDecoders {
  readonly webp?: PictureDecoder | undefined;
}

/** Terrain tiles are 256 or 512 pixels across; a bigger picture than this is damaged or meant to harm. No source. */
const MOST_PX = 2048;

/**
 * The pixels of one terrain tile, PNG or lossless WebP.
 * @throws Fault "bad-tile" for pictures of other kinds, lossy ones, those over 2048 pixels across and damaged ones;
 *   "unavailable" for WebP where the host has no decoder for it
 */
export async function decodePicture(bytes: Uint8Array, { webp }: GroundDecoders): Promise<Pixels> {
  const head = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let pixels: Pixels;
  if (bytes.length > 33 && head.getUint32(0) === 0x89504e47) {
    checkSize(head.getUint32(16), head.getUint32(20));
    pixels = attempt(() => fromPng(bytes));
  } else if (bytes.length > 25 && textAt(bytes, 0) === "RIFF" && textAt(bytes, 8) === "WEBP") {
    checkWebp(bytes, head);
    if (!webp)
      throw new Fault(
        "unavailable",
        "Heights in WebP pictures cannot be read here.",
        null,
        "Use PNG terrain tiles.",
      );
    try {
      pixels = await webp(bytes);
    } catch {
      throw unreadable("is damaged");
    }
  } else throw unreadable("is neither PNG nor WebP");
  const { width, height, channels, data } = pixels;
  if (channels < 3 || data.length < width * height * channels) throw unreadable("has no colours");
  return pixels;
}

function fromPng(bytes: Uint8Array): Pixels {
  const png = decodePng(bytes);
  // Tiles of few heights are often written with a palette.
  if (png.palette) {
    const channels = png.palette[0]?.length ?? 3;
    return { width: png.width, height: png.height, channels, data: convertIndexedToRgb(png) };
  }
  if (png.depth !== 8) throw unreadable("has not 8 bits a channel");
  return png;
}

/**
 * The picture must be one still lossless frame. Source: WebP container specification (RFC 9649): chunk "VP8L" is
 * lossless, "VP8 " is not; "VP8X" comes before either and lists what else there is.
 */
function checkWebp(bytes: Uint8Array, head: DataView): void {
  for (let at = 12; at + 8 <= bytes.length;) {
    const chunk = textAt(bytes, at);
    const size = head.getUint32(at + 4, true);
    if (chunk === "VP8 ")
      throw unreadable("has lost part of its colours in packing (lossy WebP), and with them its heights,");
    if (chunk === "ANIM" || chunk === "ANMF") throw unreadable("is a moving one");
    if (chunk === "VP8L") {
      // RFC 9649 §3.4: a signature byte, then 14 bits of width − 1 and 14 of height − 1.
      if (at + 13 > bytes.length) break;
      const sides = head.getUint32(at + 9, true);
      checkSize((sides & 0x3fff) + 1, ((sides >>> 14) & 0x3fff) + 1);
      return;
    }
    at += 8 + size + (size & 1);
  }
  throw unreadable("is damaged");
}

function checkSize(width: number, height: number): void {
  if (width < 1 || height < 1 || width > MOST_PX || height > MOST_PX)
    throw unreadable(`is ${width} × ${height} pixels big`);
}

function attempt<T>(decode: () => T): T {
  try {
    return decode();
  } catch (thrown) {
    if (thrown instanceof Fault) throw thrown;
    throw unreadable("is damaged");
  }
}

const textAt = (bytes: Uint8Array, at: number): string => String.fromCharCode(...bytes.subarray(at, at + 4));

const unreadable = (what: string): Fault =>
  new Fault("bad-tile", `A picture of the terrain ${what} and cannot be read.`);
