/**
 * Files packed in a zip: only those asked for are unpacked, never to more than they say, and their check value must
 * fit. Source: PKWARE APPNOTE 6.3, the parts that every zip uses: stored and deflated, no encryption, no zip64.
 */
import { Inflate } from "fflate";
import { crc32 } from "../map/unpack.ts";
import { badFeatures, bytesFile, decoding, exactly, type FeatureFile } from "./feature-file.ts";

/** All that is unpacked of one zip, bytes. No source. */
const MOST_BYTES = 2 ** 29;
const MOST_ENTRIES = 65_535;
/** The record at the end is 22 bytes and a comment of at most 65 535. */
const END_BYTES = 22;
const PIECE_BYTES = 2 ** 14;

interface Entry {
  readonly name: string;
  readonly method: number;
  readonly encrypted: boolean;
  readonly check: number;
  readonly packedBytes: number;
  readonly bytes: number;
  readonly offset: number;
}

/**
 * @param wanted whether a file of this name is to be unpacked
 * @param mostBytes all that may be unpacked
 * @returns files in memory, named "park.zip/roads.shp", each with those of other endings beside it
 * @throws Fault "bad-features" naming the file in the zip
 */
export async function unzip(
  file: FeatureFile,
  wanted: (name: string) => boolean,
  mostBytes = MOST_BYTES,
): Promise<FeatureFile[]> {
  const entries = (await entriesOf(file)).filter(({ name }) => wanted(name));
  const total = entries.reduce((sum, { bytes }) => sum + bytes, 0);
  if (total > mostBytes)
    throw badFeatures(
      `It would unpack to ${(total / 2 ** 20).toFixed(0)} MB; ${(mostBytes / 2 ** 20).toFixed(0)} MB is the most here.`,
      file.key,
      "Unpack it yourself, and name the files in it.",
    );
  const byName = new Map<string, FeatureFile>();
  for (const entry of entries) {
    const name = `${file.key}/${entry.name}`;
    const bytes = await unpacked(file, entry, name);
    const stem = entry.name.replace(/\.[^./]*$/, "").toLowerCase();
    const beside = (ending: string): FeatureFile | null =>
      byName.get(`${stem}.${ending.toLowerCase()}`) ?? null;
    byName.set(entry.name.toLowerCase(), bytesFile(name, bytes, beside));
  }
  return [...byName.values()];
}

async function entriesOf(file: FeatureFile): Promise<Entry[]> {
  const tailBytes = Math.min(file.sizeBytes, END_BYTES + 65_535);
  const tail = await exactly(file, file.sizeBytes - tailBytes, tailBytes, "it");
  const view = new DataView(tail.buffer, tail.byteOffset, tail.length);
  let end = tail.length - END_BYTES;
  while (end >= 0 && view.getUint32(end, true) !== 0x06054b50) end--;
  if (end < 0)
    throw badFeatures("This is no zip, or it is cut short: its list of files is missing.", file.key);
  const count = view.getUint16(end + 10, true);
  const size = view.getUint32(end + 12, true);
  const from = view.getUint32(end + 16, true);
  if (count > MOST_ENTRIES || from === 0xffffffff)
    throw badFeatures(
      "The zip is larger than 4 GB.",
      file.key,
      "Unpack it yourself, and name the files in it.",
    );
  const list = await exactly(file, from, size, "its list of files");
  return decoding("The list of files", file.key, () => {
    const at = new DataView(list.buffer, list.byteOffset, list.length);
    const entries: Entry[] = [];
    for (let p = 0, i = 0; i < count; i++) {
      if (at.getUint32(p, true) !== 0x02014b50) throw new Error("an entry does not begin as one");
      const flags = at.getUint16(p + 8, true);
      const nameBytes = at.getUint16(p + 28, true);
      const name = list.subarray(p + 46, p + 46 + nameBytes);
      entries.push({
        // Bit 11: UTF-8. Else code page 437 by the book; names of map files are ASCII in practice.
        name: new TextDecoder(flags & 0x800 ? "utf-8" : "windows-1252").decode(name),
        encrypted: (flags & 1) !== 0,
        method: at.getUint16(p + 10, true),
        check: at.getUint32(p + 16, true),
        packedBytes: at.getUint32(p + 20, true),
        bytes: at.getUint32(p + 24, true),
        offset: at.getUint32(p + 42, true),
      });
      p += 46 + nameBytes + at.getUint16(p + 30, true) + at.getUint16(p + 32, true);
    }
    return entries;
  });
}

async function unpacked(file: FeatureFile, entry: Entry, name: string): Promise<Uint8Array> {
  if (entry.encrypted)
    throw badFeatures("The file is encrypted.", name, "Unpack it yourself, and name the files in it.");
  if (entry.method !== 0 && entry.method !== 8)
    throw badFeatures(
      "The file is packed in a way not known here.",
      name,
      "Pack it as plain zip, or not at all.",
    );
  const local = await exactly(file, entry.offset, 30, `the head of ${entry.name}`);
  const head = new DataView(local.buffer, local.byteOffset, 30);
  if (head.getUint32(0, true) !== 0x04034b50)
    throw badFeatures("The file is not where the zip's list says.", name);
  const from = entry.offset + 30 + head.getUint16(26, true) + head.getUint16(28, true);
  const packed = await exactly(file, from, entry.packedBytes, entry.name);
  const plain = decoding("The packed file", name, () => {
    if (entry.method === 0) return packed;
    if (entry.bytes > 1032 * entry.packedBytes + 64) throw new Error("it says it is larger than it can be");
    const out = new Uint8Array(entry.bytes);
    let at = 0;
    const inflate = new Inflate((piece) => {
      if (at + piece.length > out.length) throw new Error("it unpacks to more than it says");
      out.set(piece, at);
      at += piece.length;
    });
    for (let p = 0; p < packed.length; p += PIECE_BYTES)
      inflate.push(packed.subarray(p, p + PIECE_BYTES), p + PIECE_BYTES >= packed.length);
    return out.subarray(0, at);
  });
  if (plain.length !== entry.bytes || crc32(plain) !== entry.check)
    throw badFeatures("The packed file is damaged: its check value does not fit.", name);
  return plain;
}
