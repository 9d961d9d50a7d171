/**
 * Unpacks one strip or tile of a TIFF file into heights, never to more than it is to hold: a few kilobytes can be made
 * to unpack to gigabytes, which the GeoTIFF library does not guard against.
 * Source: TIFF 6.0, sections 9 (PackBits), 13 (LZW) and 14 (predictor); Adobe's TIFF technical note 3 (floating-point
 * predictor); RFC 1950 (zlib).
 */
import { Unzlib, unzlibSync } from "fflate";

export const COMPRESSIONS: ReadonlyMap<number, "none" | "lzw" | "deflate" | "packbits"> = new Map([
  [1, "none"],
  [5, "lzw"],
  [8, "deflate"],
  [32946, "deflate"],
  [32773, "packbits"],
]);

export interface SampleFormat {
  readonly compression: "none" | "lzw" | "deflate" | "packbits";
  /** 1 none, 2 differences, 3 differences of floating-point bytes. */
  readonly predictor: number;
  readonly kind: "uint" | "int" | "float";
  readonly bytes: 1 | 2 | 4 | 8;
  readonly littleEndian: boolean;
}

/** Up to this much at once unpacks to no more than 64 MB: deflate packs at most 1032 to 1. */
const PIECE_BYTES = 2 ** 16;

/**
 * @param width samples a row of the block
 * @param rows rows of the block that are wanted; it may hold more
 * @throws Error, in words, when the block is damaged
 */
export function decodeBlock(
  packed: Uint8Array,
  format: SampleFormat,
  width: number,
  rows: number,
): Float32Array | Float64Array {
  const size = width * rows * format.bytes;
  const plain = unpack(packed, format.compression, size);
  if (plain.length < size) throw new Error("it holds fewer heights than it should");
  const view = new DataView(plain.buffer, plain.byteOffset, size);
  if (format.predictor === 3) undoFloatPredictor(plain, width, rows, format.bytes);
  if (format.predictor !== 2) return samplesOf(view, format, width * rows);
  // Differences are of whole numbers, also where those are the bits of a floating-point number.
  if (format.kind === "float" && format.bytes === 8)
    throw new Error("differences of 64-bit floats are not read here");
  const kind = format.kind === "float" ? "uint" : format.kind;
  const values = samplesOf(view, { ...format, kind }, width * rows);
  undoDifferences(values, kind === "int", 2 ** (8 * format.bytes), width, rows);
  return format.kind === "float" ? new Float32Array(Uint32Array.from(values).buffer) : values;
}

function unpack(packed: Uint8Array, method: SampleFormat["compression"], size: number): Uint8Array {
  if (method === "none") return packed.slice(0, size);
  if (method === "packbits") return packBits(packed, size);
  if (method === "lzw") return lzw(packed, size);
  return deflate(packed, size);
}

/** A last strip may be packed at its full height, so that more comes out than is wanted: as much again is let by. */
function deflate(packed: Uint8Array, size: number): Uint8Array {
  const out = new Uint8Array(size);
  let at = 0;
  let [a, b] = [1, 0];
  const take = (piece: Uint8Array): void => {
    if (at + piece.length > 2 * size + 65_536) throw new Error("it unpacks to more than it is to hold");
    if (at < size) out.set(piece.length > size - at ? piece.subarray(0, size - at) : piece, at);
    at += piece.length;
    // Adler-32: the unpacking itself does not look at it, and a flipped bit would else be another hill.
    for (let i = 0; i < piece.length;) {
      const end = Math.min(piece.length, i + 3800);
      for (; i < end; i++) b += a += piece[i]!;
      a %= 65521;
      b %= 65521;
    }
  };
  if (packed.length <= PIECE_BYTES) take(unzlibSync(packed));
  else {
    const stream = new Unzlib((piece) => take(piece));
    for (let from = 0; from < packed.length; from += PIECE_BYTES)
      stream.push(packed.subarray(from, from + PIECE_BYTES), from + PIECE_BYTES >= packed.length);
  }
  const n = packed.length;
  const told = new DataView(packed.buffer, packed.byteOffset + n - 4, 4).getUint32(0);
  if (told !== b * 65536 + a) throw new Error("its check value does not fit");
  return out.subarray(0, Math.min(at, size));
}

function packBits(packed: Uint8Array, size: number): Uint8Array {
  const out = new Uint8Array(size);
  let at = 0;
  for (let i = 0; i < packed.length && at < size;) {
    const n = packed[i++]!;
    if (n < 128) {
      out.set(packed.subarray(i, i + Math.min(n + 1, size - at)), at);
      at += n + 1;
      i += n + 1;
    } else if (n > 128) {
      out.fill(packed[i++] ?? 0, at, Math.min(size, at + 257 - n));
      at += 257 - n;
    }
  }
  return out.subarray(0, Math.min(at, size));
}

const CLEAR = 256;
const END = 257;

function lzw(packed: Uint8Array, size: number): Uint8Array {
  if (packed[0] === 0 && (packed[1]! & 1) === 1)
    throw new Error("it is packed in the LZW of before TIFF 6.0");
  const out = new Uint8Array(size);
  // Each code stands for a stretch of what has come out already: where it begins, and how long it is.
  const begins = new Int32Array(4097);
  const lengths = new Int32Array(4097);
  let [at, next, bits, before] = [0, 258, 9, -1];
  let [held, heldBits, i] = [0, 0, 0];
  while (at < size) {
    while (heldBits < bits) {
      if (i >= packed.length) return out.subarray(0, at);
      held = ((held << 8) | packed[i++]!) & 0xffffff;
      heldBits += 8;
    }
    const code = (held >> (heldBits - bits)) & ((1 << bits) - 1);
    heldBits -= bits;
    if (code === END) break;
    if (code === CLEAR) {
      [next, bits, before] = [258, 9, -1];
      continue;
    }
    const begin = at;
    if (code < 256) out[at++] = code;
    else {
      if (code > next || (code === next && before < 0) || code < 258)
        throw new Error("its codes make no sense");
      // The code being made now is the one before and its own first byte.
      const known = code < next;
      const from = known ? begins[code]! : before;
      const length = known ? lengths[code]! : begin - before + 1;
      const end = Math.min(size, at + length);
      for (let k = from; at < end; k++) out[at++] = out[k]!;
    }
    if (before >= 0 && next < 4096) {
      begins[next] = before;
      lengths[next] = begin - before + 1;
      next++;
    }
    before = begin;
    // TIFF widens its codes one early.
    if (next >= 511) bits = next >= 2047 ? 12 : next >= 1023 ? 11 : 10;
  }
  return out.subarray(0, at);
}

function samplesOf(view: DataView, format: SampleFormat, count: number): Float32Array | Float64Array {
  const { kind, bytes } = format;
  // The floating-point predictor leaves the bytes in the order of the file too: most significant first.
  const little = format.predictor === 3 ? false : format.littleEndian;
  const exact = bytes < 4 || (kind === "float" && bytes === 4);
  const out = exact ? new Float32Array(count) : new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const at = i * bytes;
    if (kind === "float") out[i] = bytes === 4 ? view.getFloat32(at, little) : view.getFloat64(at, little);
    else if (bytes === 2) out[i] = kind === "int" ? view.getInt16(at, little) : view.getUint16(at, little);
    else if (bytes === 4) out[i] = kind === "int" ? view.getInt32(at, little) : view.getUint32(at, little);
    else out[i] = kind === "int" ? view.getInt8(at) : view.getUint8(at);
  }
  return out;
}

/** Differences along each row, added up again within the whole numbers of the sample's own size. */
function undoDifferences(
  values: Float32Array | Float64Array,
  signed: boolean,
  size: number,
  width: number,
  rows: number,
): void {
  const [least, most] = signed ? [-size / 2, size / 2 - 1] : [0, size - 1];
  for (let row = 0; row < rows; row++)
    for (let i = row * width + 1; i < (row + 1) * width; i++) {
      let sum = values[i - 1]! + values[i]!;
      if (sum > most) sum -= size;
      else if (sum < least) sum += size;
      values[i] = sum;
    }
}

/** Each row holds the most significant bytes of all its samples first, each byte as its difference from the one before. */
function undoFloatPredictor(plain: Uint8Array, width: number, rows: number, bytes: number): void {
  const line = width * bytes;
  const copy = new Uint8Array(line);
  for (let row = 0; row < rows; row++) {
    const from = row * line;
    for (let i = from + 1; i < from + line; i++) plain[i] = (plain[i]! + plain[i - 1]!) & 255;
    copy.set(plain.subarray(from, from + line));
    for (let i = 0; i < width; i++)
      for (let k = 0; k < bytes; k++) plain[from + i * bytes + k] = copy[k * width + i]!;
  }
}
