/**
 * Splits GeoJSON into its features without reading all of it at once: a collection, or any number of features one
 * after another (a line each, RFC 8142, or just so).
 */
import { badFeatures, type FeatureFile, piecesOf, type Tick } from "../../files/feature-file.ts";

/** One feature, and all that is not a feature, bytes. No source. */
const MOST_FEATURE_BYTES = 2 ** 27;

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const COLON = 0x3a;
const [OPEN, CLOSE, OPEN_LIST, CLOSE_LIST] = [0x7b, 0x7d, 0x5b, 0x5d];
/** Space, tab, line ends, commas (between features one after another: seen in the wild) and RFC 8142's separator. */
const BETWEEN = new Set([0x20, 0x09, 0x0a, 0x0d, 0x1e]);

class Bytes {
  private held = new Uint8Array(1024);
  private n = 0;
  add(piece: Uint8Array, where: () => string): void {
    const size = this.n + piece.length;
    if (size > MOST_FEATURE_BYTES)
      throw badFeatures(`One feature has more than ${MOST_FEATURE_BYTES / 2 ** 20} MB.`, where());
    if (size > this.held.length) {
      const larger = new Uint8Array(Math.max(size, 2 * this.held.length));
      larger.set(this.held.subarray(0, this.n));
      this.held = larger;
    }
    this.held.set(piece, this.n);
    this.n = size;
  }
  take(): Uint8Array {
    const bytes = this.held.subarray(0, this.n);
    this.n = 0;
    return bytes;
  }
}

const utf8 = new TextDecoder("utf-8", { fatal: true });

/**
 * @param feature told every member of a list called "features" in an object at the top; null passes over them
 * @param root told every object at the top, without what is in such a list
 * @throws Fault "bad-features" naming the line where the text stops being JSON
 */
export async function splitJson(
  file: FeatureFile,
  tick: Tick,
  feature: ((value: unknown, where: string) => void) | null,
  root: (value: unknown, where: string) => void,
): Promise<void> {
  const rest = new Bytes();
  const element = new Bytes();
  let [depth, line, startLine, features, roots] = [0, 1, 1, 0, 0];
  let inString = false;
  let escaped = false;
  let inList = false;
  let inElement = false;
  /** The last string at the top of an object, as it may be a key. */
  let string: number[] = [];
  let key = "";
  const where = (): string => `${file.key}, line ${line}`;
  const parse = (bytes: Uint8Array, place: string): unknown => {
    try {
      return JSON.parse(utf8.decode(bytes)) as unknown;
    } catch (error) {
      const why = error instanceof RangeError ? "it is nested too deep" : "it is no JSON in UTF-8";
      throw badFeatures(`A feature cannot be read: ${why}.`, place);
    }
  };

  let first = true;
  for await (const piece of piecesOf(file, tick)) {
    let from = 0;
    if (first && piece[0] === 0xef && piece[1] === 0xbb && piece[2] === 0xbf) from = 3;
    first = false;
    let start = from;
    const flush = (to: number): void => {
      if (inElement) {
        if (feature) element.add(piece.subarray(start, to), where);
      } else if (!inList) rest.add(piece.subarray(start, to), where);
      start = to;
    };
    for (let i = from; i < piece.length; i++) {
      const byte = piece[i]!;
      if (byte === 0x0a) line++;
      if (inString) {
        if (escaped) escaped = false;
        else if (byte === BACKSLASH) escaped = true;
        else if (byte === QUOTE) inString = false;
        else if (depth === 1 && string.length < 12) string.push(byte);
        continue;
      }
      switch (byte) {
        case QUOTE:
          inString = true;
          string = [];
          break;
        case COLON:
          if (depth === 1) key = String.fromCharCode(...string);
          break;
        case OPEN:
        case OPEN_LIST:
          if (depth === 0) {
            if (byte === OPEN_LIST) throw badFeatures("A list is no GeoJSON.", where());
            start = i;
            startLine = line;
            key = "";
            roots++;
          }
          if (depth === 1 && byte === OPEN_LIST && key === "features") {
            flush(i + 1);
            inList = true;
          } else if (depth === 2 && inList && !inElement) {
            start = i;
            inElement = true;
          }
          depth++;
          break;
        case CLOSE:
        case CLOSE_LIST:
          depth--;
          if (depth < 0) throw badFeatures("A bracket closes that was not opened.", where());
          if (inElement && depth === 2) {
            flush(i + 1);
            inElement = false;
            features++;
            if (feature)
              feature(parse(element.take(), `${file.key}, feature ${features}`), `feature ${features}`);
          } else if (inList && depth === 1) {
            inList = false;
            start = i; // the list is left empty in the rest
          } else if (depth === 0) {
            flush(i + 1);
            const place = roots > 1 || line > startLine ? `line ${startLine}` : "line 1";
            root(parse(rest.take(), `${file.key}, ${place}`), place);
          }
          break;
        default:
          if (depth === 0 && !BETWEEN.has(byte) && !(byte === 0x2c && roots > 0))
            throw badFeatures("This is no GeoJSON.", where());
          if (inList && !inElement && !BETWEEN.has(byte) && byte !== 0x2c)
            throw badFeatures("A feature is no object.", where());
          if (depth === 0) start = i + 1;
      }
    }
    if (depth > 0) flush(piece.length);
  }
  if (depth > 0 || inString) throw badFeatures("The text is cut short: an object is not closed.", where());
  if (roots === 0) throw badFeatures("The file holds no object.", file.key);
}
