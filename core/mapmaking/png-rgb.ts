/**
 * PNG pictures of 8-bit red, green and blue, filtered row by row. Terrain compresses to about half the size with
 * filters, and the decoding library's own encoder writes none.
 * Source: PNG (Portable Network Graphics) Specification, third edition, clauses 5, 9 and 12.7 (choice of filters).
 */
import { zlibSync } from "fflate";

const SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
const CHANNELS = 3;

const CRC = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c;
});

function chunk(type: string, data: Uint8Array): Uint8Array {
  const out = new Uint8Array(data.length + 12);
  const view = new DataView(out.buffer);
  view.setUint32(0, data.length);
  for (let i = 0; i < 4; i++) out[4 + i] = type.charCodeAt(i);
  out.set(data, 8);
  let crc = 0xffffffff;
  for (let i = 4; i < data.length + 8; i++) crc = CRC[(crc ^ out[i]!) & 0xff]! ^ (crc >>> 8);
  view.setUint32(data.length + 8, (crc ^ 0xffffffff) >>> 0);
  return out;
}

const size = (v: number): number => (v < 128 ? v : 256 - v);

/** Filters one row into `out` with the filter whose bytes are smallest in sum: none, left, up, average or Paeth's. */
function filterRow(
  pixels: Uint8Array,
  at: number,
  length: number,
  first: boolean,
  candidates: readonly Uint8Array[],
): number {
  const sums = [0, 0, 0, 0, 0];
  const [none, sub, up, average, paeth] = candidates as readonly [
    Uint8Array,
    Uint8Array,
    Uint8Array,
    Uint8Array,
    Uint8Array,
  ];
  for (let i = 0; i < length; i++) {
    const x = pixels[at + i]!;
    const a = i >= CHANNELS ? pixels[at + i - CHANNELS]! : 0;
    const b = first ? 0 : pixels[at + i - length]!;
    const c = first || i < CHANNELS ? 0 : pixels[at + i - length - CHANNELS]!;
    const pa = Math.abs(b - c);
    const pb = Math.abs(a - c);
    const pc = Math.abs(a + b - 2 * c);
    const best = pa <= pb && pa <= pc ? a : pb <= pc ? b : c;
    none[i] = x;
    sub[i] = x - a;
    up[i] = x - b;
    average[i] = x - ((a + b) >> 1);
    paeth[i] = x - best;
    sums[0]! += size(x);
    sums[1]! += size(sub[i]!);
    sums[2]! += size(up[i]!);
    sums[3]! += size(average[i]!);
    sums[4]! += size(paeth[i]!);
  }
  return sums.indexOf(Math.min(...sums));
}

/**
 * A PNG file of red, green, blue bytes, row after row from the top.
 * @param pixels width · height · 3 bytes
 */
export function encodePng(pixels: Uint8Array, width: number, height: number): Uint8Array {
  const length = width * CHANNELS;
  const rows = new Uint8Array((length + 1) * height);
  const candidates = Array.from({ length: 5 }, () => new Uint8Array(length));
  for (let row = 0; row < height; row++) {
    const filter = filterRow(pixels, row * length, length, row === 0, candidates);
    rows[row * (length + 1)] = filter;
    rows.set(candidates[filter]!, row * (length + 1) + 1);
  }
  const header = new Uint8Array(13);
  const view = new DataView(header.buffer);
  view.setUint32(0, width);
  view.setUint32(4, height);
  header.set([8, 2], 8); // 8 bits a channel, red green blue; compression, filter method and interlace stay 0
  const parts = [
    Uint8Array.from(SIGNATURE),
    chunk("IHDR", header),
    chunk("IDAT", zlibSync(rows, { level: 6 })),
    chunk("IEND", new Uint8Array(0)),
  ];
  const out = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
}
