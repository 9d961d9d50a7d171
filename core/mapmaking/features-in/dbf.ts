/**
 * The table beside a shapefile (.dbf). Source: dBase III plus table file format; ESRI Shapefile Technical Description,
 * 1998. Encodings: the .cpg file, else the language driver byte.
 */
import { CP437, CP850, singleByte } from "./code-pages.ts";
import { badFeatures, exactly, type FeatureFile } from "../../files/feature-file.ts";
import { put, type Tags } from "./raw-feature.ts";

interface Field {
  readonly name: string;
  readonly type: string;
  readonly offset: number;
  readonly length: number;
}

export interface Dbf {
  readonly records: number;
  readonly encoding: string;
  /** Attributes of some records in a row; null for one that is marked as deleted. */
  read(first: number, count: number): Promise<(Tags | null)[]>;
}

/** @throws Fault "bad-features" */
export async function openDbf(file: FeatureFile, cpg: string | null): Promise<Dbf> {
  const head = await exactly(file, 0, 32, "the head of the table");
  const view = new DataView(head.buffer, head.byteOffset, 32);
  const records = view.getUint32(4, true);
  const headBytes = view.getUint16(8, true);
  const recordBytes = view.getUint16(10, true);
  if (headBytes < 33 || recordBytes < 1 || headBytes + records * recordBytes > file.sizeBytes + 1)
    throw badFeatures(
      `The table should have ${records} records of ${recordBytes} bytes; the file is too small for them.`,
      `${file.key}, byte 4`,
    );
  const encoding = encodingOf(cpg, view.getUint8(29), file.key);
  const described = await exactly(file, 32, headBytes - 32, "the description of the table");
  const fields: Field[] = [];
  let offset = 1;
  for (let p = 0; p + 32 <= described.length && described[p] !== 0x0d; p += 32) {
    const zero = described.subarray(p, p + 11).indexOf(0);
    const name = encoding.decode(described.subarray(p, p + (zero < 0 ? 11 : zero))).trim();
    const type = String.fromCharCode(described[p + 11]!);
    const length = described[p + 16]!;
    fields.push({ name: name.toLowerCase(), type, offset, length });
    offset += length;
  }
  if (offset > recordBytes)
    throw badFeatures(
      `The fields take ${offset} bytes, a record has ${recordBytes}.`,
      `${file.key}, byte 32`,
    );
  return {
    records,
    encoding: encoding.name,
    async read(first, count) {
      // The last byte may be missing: some programs leave out the mark at the end.
      const bytes = await exactly(
        file,
        headBytes + first * recordBytes,
        count * recordBytes,
        `record ${first + 1}`,
      );
      return Array.from({ length: count }, (_, i) => {
        const record = bytes.subarray(i * recordBytes, (i + 1) * recordBytes);
        return record[0] === 0x2a ? null : tagsOf(record, fields, encoding);
      });
    },
  };
}

function tagsOf(record: Uint8Array, fields: readonly Field[], encoding: Encoding): Tags {
  const tags: Record<string, string | number | boolean> = {};
  for (const { name, type, offset, length } of fields) {
    const bytes = record.subarray(offset, offset + length);
    if (type === "N" || type === "F") {
      const text = ascii(bytes);
      const value = Number(text);
      // Stars stand for a number too wide for its field.
      if (text !== "" && Number.isFinite(value)) put(tags, name, value);
    } else if (type === "L") {
      const mark = ascii(bytes);
      if (/^[TtYy]$/.test(mark)) put(tags, name, true);
      else if (/^[FfNn]$/.test(mark)) put(tags, name, false);
    } else if (type === "C" || type === "D") {
      const text = encoding
        .decode(bytes)
        .replace(/[\s\0]+$/, "")
        .replace(/^\s+/, "");
      if (text !== "") put(tags, name, text);
    }
  }
  return tags;
}

const ascii = (bytes: Uint8Array): string =>
  String.fromCharCode(...bytes)
    .replaceAll("\0", " ")
    .trim();

interface Encoding {
  readonly name: string;
  decode(bytes: Uint8Array): string;
}

/** Language driver bytes, as dBase and its followers use them. */
const LABEL_OF_DRIVER: Readonly<Record<number, string>> = {
  0x03: "windows-1252",
  0x57: "windows-1252",
  0x13: "shift_jis",
  0x7b: "shift_jis",
  0x4d: "gbk",
  0x4e: "euc-kr",
  0x4f: "big5",
  0x65: "ibm866",
  0x26: "ibm866",
  0x7c: "windows-874",
  0xc8: "windows-1250",
  0xc9: "windows-1251",
  0xca: "windows-1254",
  0xcb: "windows-1253",
};
const CP850_DRIVERS = new Set([0x02, 0x0a, 0x0e, 0x10, 0x12, 0x14, 0x16, 0x1a, 0x1d, 0x25, 0x37]);
const CP437_DRIVERS = new Set([0x01, 0x09, 0x0b, 0x0d, 0x0f, 0x11, 0x15, 0x18, 0x19, 0x1b]);

function encodingOf(cpg: string | null, driver: number, file: string): Encoding {
  if (cpg !== null) {
    const label = labelOfCpg(cpg);
    if (label === "cp437") return singleByte("code page 437", CP437);
    if (label === "cp850") return singleByte("code page 850", CP850);
    try {
      return named(label);
    } catch {
      throw badFeatures(
        `The encoding “${cpg.slice(0, 40)}” of the .cpg file is not known here.`,
        file,
        "Write the encoding's usual name into it, such as UTF-8 or 1252.",
      );
    }
  }
  if (CP437_DRIVERS.has(driver)) return singleByte("code page 437", CP437);
  if (CP850_DRIVERS.has(driver)) return singleByte("code page 850", CP850);
  const label = LABEL_OF_DRIVER[driver];
  if (label !== undefined) return named(label);
  // Nothing said: UTF-8 where the bytes are that, else Latin 1, its usual extension.
  const strict = new TextDecoder("utf-8", { fatal: true });
  const latin = new TextDecoder("windows-1252");
  return {
    name: "not said: UTF-8 or windows-1252",
    decode(bytes) {
      try {
        return strict.decode(bytes);
      } catch {
        return latin.decode(bytes);
      }
    },
  };
}

function named(label: string): Encoding {
  const decoder = new TextDecoder(label);
  return { name: label, decode: (bytes) => decoder.decode(bytes) };
}

function labelOfCpg(cpg: string): string {
  const text = cpg.trim().toLowerCase();
  const number = /^(?:ansi|oem|cp|windows|ms|x-cp)?[\s_-]*(\d{3,5})$/.exec(text)?.[1];
  if (number === "65001") return "utf-8";
  if (number === "437" || number === "850") return `cp${number}`;
  if (number === "936") return "gbk";
  if (number === "932") return "shift_jis";
  if (number === "949") return "euc-kr";
  if (number === "950") return "big5";
  if (number === "866") return "ibm866";
  if (number && /^125[0-8]$/.test(number)) return `windows-${number}`;
  const latin = /^(?:iso[\s_-]*)?8859[\s_-]*(\d{1,2})$/.exec(text)?.[1];
  return latin ? `iso-8859-${latin}` : text;
}
