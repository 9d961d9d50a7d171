/** A file of another program, whatever its kind: known by its first bytes, never by its name alone. */
import { Fault } from "../fault.ts";
import { badFeatures, bytesFile, type FeatureFile } from "../files/feature-file.ts";
import { unzip } from "../files/zip.ts";
import type { TableLook } from "./csv-columns.ts";
import { type Exchange, type RawExchange, READ_LIMITS, type ReadOptions, settle } from "./exchange.ts";
import { placePositions } from "./place-positions.ts";
import { lookAtTable, readCsv } from "./read-csv.ts";
import { readGeoJson } from "./read-geojson.ts";
import { readGpx } from "./read-gpx.ts";
import { readKml } from "./read-kml.ts";

/** KML files in one package. No source. */
const MOST_FILES = 100;

/**
 * @param bytes the whole file
 * @param name its name, for messages
 * @throws Fault "bad-features" with file and place when it cannot be read or goes beyond the limits
 */
export async function readExchange(
  bytes: Uint8Array,
  name: string,
  options: ReadOptions = READ_LIMITS,
): Promise<Exchange> {
  if (bytes.length > options.mostBytes) throw tooLarge(name, options);
  if (bytes.length === 0) throw badFeatures("The file is empty.", name);
  if (bytes[0] === 0x50 && bytes[1] === 0x4b) {
    return finish("KMZ", await readKmz(bytes, name, options), name, options);
  }
  const start = beginning(bytes);
  if (start.startsWith("<")) {
    const file = bytesFile(name, options.encoding === null ? bytes : asUtf8(bytes, name, options.encoding));
    const root = /<(?:[\w.-]+:)?(gpx|kml)[\s>/]/i.exec(start)?.[1]?.toLowerCase();
    const kml = root ? root === "kml" : /\.kml$/i.test(name);
    return kml
      ? finish("KML", await readKml(file, options), name, options)
      : finish("GPX", await readGpx(file, options), name, options);
  }
  const [text, report] = decoded(bytes, name, options.encoding);
  const json = /^[{[]/.test(start);
  const raw = json ? readGeoJson(text, name, options) : readCsv(text, name, options);
  raw.report.unshift(...report);
  return finish(json ? "GeoJSON" : raw.table ? "CSV" : "list", raw, name, options);
}

/**
 * How a table would be taken, for a person to put right; null for what is no table.
 * @throws Fault as `readExchange` does
 */
export function tableIn(bytes: Uint8Array, name: string, options: ReadOptions): TableLook | null {
  if (bytes.length === 0 || bytes.length > options.mostBytes || (bytes[0] === 0x50 && bytes[1] === 0x4b))
    return null;
  if (/^[<{[]/.test(beginning(bytes))) return null;
  return lookAtTable(decoded(bytes, name, options.encoding)[0], name, options);
}

function finish(format: Exchange["format"], raw: RawExchange, name: string, options: ReadOptions): Exchange {
  const report = [...raw.report];
  placePositions(raw, options, name, report);
  const candidates = settle(raw.drafts, report);
  if (candidates.length === 0)
    throw badFeatures(
      ["The file holds no route, no track and no points.", ...report.slice(0, 5)].join(" "),
      name,
      "Choose another file.",
    );
  return { format, title: raw.title, notes: raw.notes, candidates, report, table: raw.table ?? null };
}

const tooLarge = (name: string, { mostBytes }: ReadOptions): Fault =>
  badFeatures(
    `The file is larger than ${(mostBytes / 2 ** 20).toFixed(0)} MB.`,
    name,
    "Save a shorter part of it.",
  );

/** All KML files of a package: links lead from the first to others in it. Names that lead out of it are refused. */
async function readKmz(bytes: Uint8Array, name: string, options: ReadOptions): Promise<RawExchange> {
  const files = await unzip(bytesFile(name, bytes), (inside) => isKml(inside, name), options.mostBytes);
  if (files.length > MOST_FILES)
    throw badFeatures(`The package holds more than ${MOST_FILES} KML files.`, name);
  const [first, ...rest] = files;
  if (!first) throw badFeatures("The packed file holds no KML.", name);
  let left = options.mostPositions;
  const next = async (file: FeatureFile): Promise<RawExchange> => {
    const utf8 = options.encoding === null ? file : await inUtf8(file, options.encoding);
    const raw = await readKml(utf8, { ...options, mostPositions: left });
    for (const { positions } of raw.drafts) left -= positions.length;
    return raw;
  };
  const all = await next(first);
  let { odd } = all;
  for (const file of rest) {
    const raw = await next(file);
    odd ??= raw.odd;
    all.drafts.push(...raw.drafts);
    all.report.push(...raw.report);
    all.title ??= raw.title;
    all.notes ||= raw.notes;
  }
  if (rest.length > 0) all.report.push(`All ${files.length} KML files in the package were read.`);
  return { ...all, odd };
}

const inUtf8 = async (file: FeatureFile, encoding: string): Promise<FeatureFile> =>
  bytesFile(file.key, asUtf8(await file.read(0, file.sizeBytes), file.key, encoding));

function isKml(inside: string, zip: string): boolean {
  if (/^[\\/]|^[a-z]:|(^|[\\/])\.\.([\\/]|$)/i.test(inside))
    throw badFeatures("A name in the packed file leads out of it.", `${zip}/${inside.slice(0, 100)}`);
  return /\.kml$/i.test(inside);
}

/** What the file begins with, whatever its encoding, without marks and white space. */
function beginning(bytes: Uint8Array): string {
  let text = "";
  for (const byte of bytes.subarray(0, 4000)) if (byte !== 0) text += String.fromCharCode(byte);
  return text.replace(/^(\u00ef\u00bb\u00bf|\u00ff\u00fe|\u00fe\u00ff)/, "").trimStart();
}

/** The text in the encoding a person names. @throws Fault "bad-features", "bad-argument" for an encoding there is not */
function textIn(bytes: Uint8Array, name: string, encoding: string): string {
  let decoder: InstanceType<typeof TextDecoder>;
  try {
    decoder = new TextDecoder(encoding, { fatal: true });
  } catch {
    throw new Fault("bad-argument", `There is no encoding “${encoding.slice(0, 40)}”.`, name);
  }
  try {
    return decoder.decode(bytes);
  } catch {
    throw badFeatures(
      `The bytes are no text in ${encoding.slice(0, 40)}.`,
      name,
      "Choose another encoding, or leave it to the file.",
    );
  }
}

/** XML in an encoding a person names, as UTF-8 that names none. */
const asUtf8 = (bytes: Uint8Array, name: string, encoding: string): Uint8Array =>
  new TextEncoder().encode(
    textIn(bytes, name, encoding).replace(/^(\s*<\?xml[^>]*?)\sencoding\s*=\s*(["'])[\w.:-]*\2/, "$1"),
  );

/** UTF-8 or UTF-16 by its mark, else UTF-8 where it is, else Windows-1252, which is said. */
function decoded(bytes: Uint8Array, name: string, encoding: string | null): [text: string, report: string[]] {
  if (encoding !== null) return [textIn(bytes, name, encoding), []];
  const [a, b] = bytes;
  if (a === 0xff && b === 0xfe) return [new TextDecoder("utf-16le").decode(bytes), []];
  if (a === 0xfe && b === 0xff) return [new TextDecoder("utf-16be").decode(bytes), []];
  try {
    return [new TextDecoder("utf-8", { fatal: true }).decode(bytes), []];
  } catch {
    return [
      new TextDecoder("windows-1252").decode(bytes),
      ["The file is not in UTF-8: its letters were read as Windows-1252. Look whether the names are right."],
    ];
  }
}
