/**
 * XML read piece by piece. Entities beyond the five of XML itself are refused, and nothing is fetched; names lose their
 * namespace prefix. Source: XML 1.0, fifth edition.
 */
import { SaxesParser } from "saxes";
import { Fault } from "../fault.ts";
import { badFeatures, type FeatureFile, piecesOf, type Tick } from "./feature-file.ts";
import { put } from "./put.ts";

/** Elements inside one another; real files have some tens. No source. */
const DEEPEST = 256;
/** Text of one element, characters: a track of a million positions has about 40 million. No source. */
const MOST_TEXT = 2 ** 26;

/** Named so because only the value is declared in every host. */
type Decoder = InstanceType<typeof TextDecoder>;

export interface XmlHandlers {
  readonly open: (name: string, attributes: Readonly<Record<string, string>>) => void;
  readonly close: (name: string) => void;
  readonly text?: (text: string) => void;
}

export interface XmlPlace {
  /** "track.gpx, line 12". */
  readonly where: () => string;
}

const localName = (name: string): string => name.slice(name.indexOf(":") + 1);

/**
 * @param handlers made with a way to ask where the reading is, for messages
 * @throws Fault "bad-features" naming the line when the XML is not well formed
 */
export async function readXml(
  file: FeatureFile,
  tick: Tick,
  handlers: (place: XmlPlace) => XmlHandlers,
): Promise<void> {
  const parser = new SaxesParser({ position: true });
  const where = (): string => `${file.key}, line ${parser.line}`;
  const { open, close, text } = handlers({ where });
  let depth = 0;
  let length = 0;
  parser.on("error", (error) => {
    const why = error.message.replace(/^\d+:\d+:\s*/, "").replace(/\.$/, "");
    throw badFeatures(`The XML is broken: ${why.slice(0, 200)}.`, where());
  });
  parser.on("opentag", ({ name, attributes }) => {
    if (++depth > DEEPEST)
      throw badFeatures(`More than ${DEEPEST} elements lie inside one another.`, where());
    length = 0;
    const plain: Record<string, string> = {};
    for (const key in attributes) put(plain, localName(key), attributes[key] as string);
    open(localName(name), plain);
  });
  parser.on("closetag", ({ name }) => {
    depth--;
    length = 0;
    close(localName(name));
  });
  if (text) {
    const more = (piece: string): void => {
      length += piece.length;
      if (length > MOST_TEXT) throw badFeatures("The text of one element is endless.", where());
      text(piece);
    };
    parser.on("text", more);
    parser.on("cdata", more);
  }
  try {
    let decoder: Decoder | null = null;
    for await (const piece of piecesOf(file, tick)) {
      decoder ??= decoderFor(piece, file.key);
      parser.write(decoder.decode(piece, { stream: true }));
    }
    if (!decoder) throw badFeatures("The file is empty.", file.key);
    parser.write(decoder.decode());
    parser.close();
  } catch (error) {
    if (error instanceof Fault) throw error;
    // What a decoder throws at bytes that are no text.
    throw badFeatures("The bytes are no text in the encoding the file names.", where());
  }
}

/** By the mark at the beginning, else by the declaration, else UTF-8. Source: XML 1.0, appendix F. */
function decoderFor(first: Uint8Array, name: string): Decoder {
  const [a, b] = first;
  if ((a === 0xfe && b === 0xff) || (a === 0 && b === 0x3c))
    return new TextDecoder("utf-16be", { fatal: true });
  if ((a === 0xff && b === 0xfe) || (a === 0x3c && b === 0))
    return new TextDecoder("utf-16le", { fatal: true });
  let begin = "";
  for (const byte of first.subarray(0, 200)) begin += String.fromCharCode(byte);
  const named =
    /^[\s\u0080-\u00ff]*<\?xml[^>]*?\sencoding\s*=\s*["']([\w.:-]+)["']/.exec(begin)?.[1] ?? "utf-8";
  try {
    return new TextDecoder(named, { fatal: true });
  } catch {
    throw badFeatures(`The file's encoding, “${named}”, is not known here.`, name, "Save it as UTF-8.");
  }
}
