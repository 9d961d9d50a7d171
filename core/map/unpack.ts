/**
 * Unpacks what an archive holds, never to more than it may be: a few kilobytes can be made to unpack to gigabytes.
 * Source: gzip, RFC 1952; Brotli, RFC 7932, by whatever the host has for it.
 */
import { Gunzip, gunzipSync } from "fflate";
import { Compression } from "pmtiles";
import { Fault } from "../fault.ts";

/** What a host lends to reading archives; what it lacks is left out. */
export interface ArchiveDecoders {
  /**
   * Unpacks Brotli.
   * @param mostBytes it fails, whichever way it likes, rather than give more
   */
  readonly unbrotli?:
    | ((bytes: Uint8Array, mostBytes: number) => Uint8Array | Promise<Uint8Array>)
    | undefined;
}

/** A hundred times a big tile; a directory of a million entries. No source. */
export const MOST_UNPACKED_BYTES = 64 * 2 ** 20;
/** Deflate packs at most 1032 to 1: up to this much at once unpacks to no more than the limit. */
const PIECE_BYTES = 2 ** 16;

/**
 * Unpacks by the method an archive's header names; a method of 0, unknown, is gzip when the bytes look like it.
 * @throws Fault "bad-tile" when the bytes are damaged or unpack to more than 64 MB
 */
export async function unpack(
  packed: ArrayBuffer,
  method: Compression,
  { unbrotli }: ArchiveDecoders,
): Promise<ArrayBuffer> {
  const bytes = new Uint8Array(packed);
  const gzipped = bytes[0] === 0x1f && bytes[1] === 0x8b;
  if (method === Compression.Gzip || (method === Compression.Unknown && gzipped))
    return bufferOf(gunzip(bytes));
  if (method === Compression.None || method === Compression.Unknown) return packed;
  if (method !== Compression.Brotli || !unbrotli) throw damaged("it is packed in a way not known here");
  let plain: Uint8Array;
  try {
    plain = await unbrotli(bytes, MOST_UNPACKED_BYTES);
  } catch {
    throw damaged("it cannot be unpacked");
  }
  if (plain.length > MOST_UNPACKED_BYTES) throw damaged("it is too big");
  return bufferOf(plain);
}

/**
 * One gzip member. Its size and check value are held to what follows the data, which the unpacking itself does not
 * look at: a flipped bit would else go on as another map.
 * @throws Fault "bad-tile" when it is damaged or unpacks to more than 64 MB
 */
export function gunzip(bytes: Uint8Array): Uint8Array {
  if (bytes.length < 18) throw damaged("it is cut short");
  const trailer = new DataView(bytes.buffer, bytes.byteOffset + bytes.length - 8, 8);
  const check = trailer.getUint32(0, true);
  const size = trailer.getUint32(4, true);
  if (size > MOST_UNPACKED_BYTES) throw damaged("it is too big");
  let plain: Uint8Array;
  try {
    plain =
      bytes.length <= PIECE_BYTES ? gunzipSync(bytes, { out: new Uint8Array(size) }) : inPieces(bytes, size);
  } catch {
    throw damaged("it cannot be unpacked");
  }
  if (plain.length !== size || crc32(plain) !== check) throw damaged("its check value does not fit");
  return plain;
}

function inPieces(bytes: Uint8Array, size: number): Uint8Array {
  const plain = new Uint8Array(size);
  let at = 0;
  const stream = new Gunzip((piece) => {
    plain.set(piece, at); // throws a RangeError beyond the end
    at += piece.length;
  });
  for (let from = 0; from < bytes.length; from += PIECE_BYTES)
    stream.push(bytes.subarray(from, from + PIECE_BYTES), from + PIECE_BYTES >= bytes.length);
  return plain.subarray(0, at);
}

const bufferOf = (bytes: Uint8Array): ArrayBuffer =>
  bytes.buffer instanceof ArrayBuffer && bytes.byteLength === bytes.buffer.byteLength
    ? bytes.buffer
    : new Uint8Array(bytes).buffer;

const damaged = (why: string): Fault =>
  new Fault("bad-tile", `A part of the map archive is damaged: ${why}.`);

let crcTable: Uint32Array | null = null;

/** CRC-32 as RFC 1952 §8 has it. */
export function crc32(bytes: Uint8Array): number {
  crcTable ??= Uint32Array.from({ length: 256 }, (_, n) => {
    let c = n;
    for (let k = 0; k < 8; k++) c = c & 1 ? (c >>> 1) ^ 0xedb88320 : c >>> 1;
    return c;
  });
  let crc = 0xffffffff;
  for (let i = 0; i < bytes.length; i++)
    crc = (crcTable[(crc ^ (bytes[i] as number)) & 255] as number) ^ (crc >>> 8);
  return (crc ^ 0xffffffff) >>> 0;
}
