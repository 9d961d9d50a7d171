/** WOFF to the plain font it packs (W3C, WOFF File Format 1.0, section 4): the font reader would unpack a table for every letter. */
import { inflateSync } from "node:zlib";

const SIGNATURE = 0x774f4646;

/** @throws Error for bytes that are no WOFF file */
export function unpackWoff(woff: Uint8Array): Buffer {
  const from = Buffer.from(woff.buffer, woff.byteOffset, woff.byteLength);
  if (from.length < 44 || from.readUInt32BE(0) !== SIGNATURE) throw new Error("This is not a WOFF file.");
  const count = from.readUInt16BE(12);
  const tables = Array.from({ length: count }, (_, i) => {
    const entry = from.subarray(44 + i * 20, 64 + i * 20);
    const [offset, packed, length] = [entry.readUInt32BE(4), entry.readUInt32BE(8), entry.readUInt32BE(12)];
    const bytes = from.subarray(offset, offset + packed);
    return {
      tag: entry.subarray(0, 4),
      sum: entry.readUInt32BE(16),
      bytes: packed < length ? inflateSync(bytes, { maxOutputLength: length }) : bytes,
    };
  });
  const head = Buffer.alloc(12 + count * 16);
  head.writeUInt32BE(from.readUInt32BE(4), 0);
  head.writeUInt16BE(count, 4);
  const steps = Math.floor(Math.log2(count));
  head.writeUInt16BE(16 * 2 ** steps, 6);
  head.writeUInt16BE(steps, 8);
  head.writeUInt16BE(16 * (count - 2 ** steps), 10);
  const parts: Buffer[] = [head];
  let at = head.length;
  for (const [i, { tag, sum, bytes }] of tables.entries()) {
    head.set(tag, 12 + i * 16);
    head.writeUInt32BE(sum, 16 + i * 16);
    head.writeUInt32BE(at, 20 + i * 16);
    head.writeUInt32BE(bytes.length, 24 + i * 16);
    // Every table starts at a multiple of four bytes.
    const padded = Buffer.alloc(Math.ceil(bytes.length / 4) * 4);
    padded.set(bytes);
    parts.push(padded);
    at += padded.length;
  }
  return Buffer.concat(parts);
}
