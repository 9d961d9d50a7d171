/** Damage: of bytes wherever they lie, and of what they mean — numbers in a header, values in JSON, tags, cells. */
import type { Dice } from "./dice.ts";

/** What a file is made of, and so how it is damaged where it hurts. */
export type Stuff = "binary" | "json" | "xml" | "text";

const utf8 = new TextEncoder();
const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

export function mutant(good: Uint8Array, stuff: Stuff, others: readonly Uint8Array[], d: Dice): Uint8Array {
  let bytes = good;
  for (let rounds = d.onceIn(2) ? 1 : 2; rounds > 0; rounds--) {
    if (d.onceIn(3)) bytes = ofBytes(bytes, others, d);
    else if (stuff === "binary") bytes = ofNumbers(bytes, d);
    else if (stuff === "json") bytes = ofJson(bytes, d) ?? ofText(bytes, JSON_PIECES, d);
    else bytes = ofText(bytes, stuff === "xml" ? XML_PIECES : TEXT_PIECES, d);
  }
  return bytes;
}

const joined = (...parts: readonly Uint8Array[]): Uint8Array => {
  const out = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
};

/** Bytes changed, cut off, left out, repeated, moved, or taken from another file. */
function ofBytes(bytes: Uint8Array, others: readonly Uint8Array[], d: Dice): Uint8Array {
  const at = d.below(bytes.length + 1);
  const some = Math.min(bytes.length - at, 1 + d.below(d.onceIn(4) ? 2000 : 12));
  switch (d.below(7)) {
    case 0:
      return bytes.slice(0, at);
    case 1:
      return joined(bytes.subarray(0, at), bytes.subarray(at + some));
    case 2:
      return joined(bytes.subarray(0, at + some), bytes.subarray(at));
    case 3: {
      const from = d.one(others);
      const start = d.below(from.length + 1);
      return joined(bytes.subarray(0, at), from.subarray(start, start + some), bytes.subarray(at));
    }
    case 4: {
      const out = Uint8Array.from(bytes);
      out.copyWithin(d.below(out.length + 1), at, at + some);
      return out;
    }
    default: {
      const out = Uint8Array.from(bytes);
      for (let n = 1 + d.below(6); n > 0 && out.length > 0; n--)
        out[d.below(out.length)] = d.onceIn(3) ? d.one([0, 1, 0x7f, 0x80, 0xff]) : d.below(256);
      return out;
    }
  }
}

const WHOLE = [0, 1, 2, 255, 256, 65535, 2 ** 20, 2 ** 24, 2 ** 31 - 1, 2 ** 31, 2 ** 32 - 1];
const VARINTS = [
  [0xff, 0xff, 0xff, 0xff, 0x0f],
  [0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0x01],
  [0xff, 0xff, 0xff, 0x07],
  [0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80],
];

/** A number that says how long, how many or where, made one that cannot be. Most of them stand in the first part. */
function ofNumbers(bytes: Uint8Array, d: Dice): Uint8Array {
  const out = Uint8Array.from(bytes);
  if (out.length < 16) return out;
  const reach = d.onceIn(2) ? Math.min(out.length, 256) : out.length;
  const view = new DataView(out.buffer);
  const at = d.below(reach - 10);
  const little = d.onceIn(2);
  switch (d.below(6)) {
    case 0:
      view.setUint16(at, d.one(WHOLE), little);
      break;
    case 1:
      view.setUint32(at, d.one(WHOLE), little);
      break;
    case 2:
      view.setBigUint64(at, BigInt(d.one([...WHOLE, 2 ** 52, 2 ** 53])), little);
      break;
    case 3:
      view.setFloat64(at, d.one([Number.NaN, Infinity, -Infinity, 1e308, -1e308, 5e-324, -0]), little);
      break;
    case 4:
      out.set(d.one(VARINTS).slice(0, out.length - at), at);
      break;
    default:
      view.setUint32(at, view.getUint32(at, little) + d.one([-1, 1, 2, 4, -4, 16, 1000]), little);
  }
  return out;
}

const deep = (open: string, close: string): string => open.repeat(3000) + close.repeat(3000);
const NUMBERS = ["1e999", "-1e999", "NaN", "-0", "1e-320", "99999999999999999999", "180.0000001", "-90.1", "0x10", "", "1,5"]; // prettier-ignore
const WORDS = ["\u0000", "\ufeff", "\ud800", "\u202e", "=1+1", "<b>", "__proto__", "constructor", "../../x", "a".repeat(5000), "\u{1f3d4}"]; // prettier-ignore
const JSON_PIECES = ["{", "}", "[", "]", ",", ":", '"', "null", deep("[", "]"), deep('{"a":', "}"), '"\\ud800"', '"__proto__":1,', ...NUMBERS]; // prettier-ignore
const XML_PIECES = [
  "<", ">", "</", "/>", "&", "&amp;", "&#0;", "&#x110000;", "&x;", "<!--", "<![CDATA[", "]]>", '<?xml version="1.1"?>',
  '<!DOCTYPE a [<!ENTITY x "y"><!ENTITY z "&x;&x;">]>', '<!DOCTYPE a SYSTEM "file:///etc/passwd">', "<trk><trkseg>", "<trkpt lat='1' lon='2'>",
  "<rtept lat='91' lon='181'/>", "<Placemark>", "<coordinates>1,2 3,4</coordinates>", "<gx:coord>1 2 3</gx:coord>", "<node id='1' lat='1' lon='1'/>",
  "<way id='2'><nd ref='1'/></way>", "<time>x</time>", deep("<g>", "</g>"), ...NUMBERS, ...WORDS,
]; // prettier-ignore
const TEXT_PIECES = [",", ";", "\t", "\n", "\r", '"', '""', "'", " ", "lat", "lon", "name", "°", "′", "N", "W", "33T", "ncols", "nrows 99999", "cellsize", "NODATA_value", "+proj=utm", "+zone=99", "+towgs84=1e9,1,1", "GEOGCS[", deep("[", "]"), ...NUMBERS, ...WORDS]; // prettier-ignore

/** A piece that means something put in, a number made another, a line, a tag or a word lost or doubled. */
function ofText(bytes: Uint8Array, pieces: readonly string[], d: Dice): Uint8Array {
  const whole = text(bytes);
  const at = d.below(whole.length + 1);
  switch (d.below(5)) {
    case 0:
    case 1:
      return utf8.encode(whole.slice(0, at) + d.one(pieces) + whole.slice(at));
    case 2: {
      const found = /-?\d+(?:\.\d+)?/.exec(whole.slice(at));
      if (!found) return utf8.encode(whole + d.one(NUMBERS));
      const start = at + found.index;
      return utf8.encode(whole.slice(0, start) + d.one(NUMBERS) + whole.slice(start + found[0].length));
    }
    case 3: {
      const part = /<[^>]*>|\n[^\n]*|[^\s,;"]+/.exec(whole.slice(at));
      if (!part) return utf8.encode(whole.slice(0, at));
      const [from, to] = [at + part.index, at + part.index + part[0].length];
      return utf8.encode(whole.slice(0, from) + (d.onceIn(2) ? part[0].repeat(2) : "") + whole.slice(to));
    }
    default: {
      // As another program might have saved it.
      const half = new Uint8Array(new Uint16Array(Array.from(whole, (c) => c.charCodeAt(0))).buffer);
      return d.onceIn(4) ? joined(Uint8Array.of(0xff, 0xfe), half) : utf8.encode(whole.slice(0, at));
    }
  }
}

/** One value of a JSON text made another, renamed, lost or doubled; null where there is no JSON to begin with. */
function ofJson(bytes: Uint8Array, d: Dice): Uint8Array | null {
  let json: unknown;
  try {
    json = JSON.parse(text(bytes));
  } catch {
    return null;
  }
  return utf8.encode(JSON.stringify(otherValue(json, d)) ?? "null");
}

export function otherValue(value: unknown, d: Dice): unknown {
  const isNode = typeof value === "object" && value !== null && Object.keys(value).length > 0;
  if (!isNode || d.onceIn(12)) return badValue(value, d);
  const key = d.one(Object.keys(value));
  const inside = (value as Record<string, unknown>)[key];
  if (Array.isArray(value)) {
    const at = Number(key);
    if (d.onceIn(6)) return d.onceIn(2) ? value.toSpliced(at, 1) : value.toSpliced(at, 0, inside);
    return value.with(at, otherValue(inside, d));
  }
  const out = { ...(value as Record<string, unknown>) };
  if (d.onceIn(8)) {
    delete out[key];
    if (d.onceIn(2)) out[d.one(WORDS)] = inside;
    return out;
  }
  out[key] = otherValue(inside, d);
  return out;
}

function badValue(was: unknown, d: Dice): unknown {
  return d.one<() => unknown>([
    () => null,
    () => [],
    () => ({}),
    () => true,
    () => d.one([-1, 0, 0.5, 1e308, -1e308, 2 ** 53, 91, 181, 1e-320]),
    () => d.one(WORDS),
    () => d.one(NUMBERS),
    () => [was, was],
    () => ({ a: was }),
    () => Array.from({ length: (JSON.stringify(was)?.length ?? 0) < 1000 ? 1000 : 1 }, () => was),
    () => String(was),
    () => (typeof was === "number" ? -was : Number(was)),
  ])();
}
