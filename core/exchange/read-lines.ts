/** A list of positions as people write them, one a line, with or without a name: "Bridge: 32T MT 65397 47194". */
import { badFeatures } from "../files/feature-file.ts";
import type { LonLat } from "../units/position.ts";
import { describeLast, draft, Positions, type RawExchange, type ReadOptions } from "./exchange.ts";
import { attempt, type ReferenceReader, referenceReader } from "./read-reference.ts";

/** Words of a name that may stand before or after a position. No source. */
const MOST_WORDS = 9;
const LONGEST_LINE = 400;
/** A position begins and ends with figures, but for a few letters and signs. */
const MAY_BE_POSITION = /^\D{0,8}\d(?:.*\d)?\D{0,8}$/;
/** A line is tried in many ways: more of them take longer than a person waits, and than a walk has points. No source. */
const MOST_LINES = 10_000;

/**
 * @returns null when the first line is no position: then the text is something else
 * @throws Fault "bad-features" naming the line
 */
export function readLines(text: string, name: string, options: ReadOptions): RawExchange | null {
  const references = referenceReader(options);
  const points = draft("points");
  const positions = new Positions({
    ...options,
    mostPositions: Math.min(MOST_LINES, options.mostPositions),
    frame: null,
  });
  for (const [i, line] of text.split(/\r\n|\r|\n/).entries()) {
    const plain = line.trim();
    if (plain === "") continue;
    const found = plain.length > LONGEST_LINE ? null : inLine(plain, references);
    if (!found && points.positions.length === 0) return null;
    const where = `${name}, line ${i + 1}`;
    if (!found)
      throw badFeatures(
        "The line holds no position that can be read.",
        where,
        "Write one position a line, such as 47.3769 N 8.5417 E, a name before it if it has one.",
      );
    positions.add(points, found.lonLat[0], found.lonLat[1], where);
    describeLast(points, found.name, "");
  }
  if (points.positions.length === 0) return null;
  return { title: null, notes: "", drafts: [points], report: [...references.told], odd: null, placed: true };
}

interface Found {
  readonly lonLat: LonLat;
  readonly name: string | null;
}

function inLine(line: string, references: ReferenceReader): Found | null {
  const read = (text: string, name: string | null): Found | null => {
    // Spares the many ways of taking a line apart the trial.
    if (!MAY_BE_POSITION.test(text)) return null;
    const lonLat = attempt(() => references.read(text));
    return lonLat && { lonLat, name };
  };
  const whole = read(line, null);
  if (whole) return whole;
  const tidy = (word: string): string | null => word.replace(/^[\s,;:\t–-]+|[\s,;:\t–-]+$/g, "") || null;
  const apart = /^([^:\t;]{1,200})[:\t;](.+)$/.exec(line);
  const named = apart && read((apart[2] as string).trim(), tidy(apart[1] as string));
  if (named) return named;
  const ends = [...line.matchAll(/[\s,]+/g)].map(({ index }) => index);
  for (const at of ends.slice(0, MOST_WORDS)) {
    const found = read(line.slice(at).replace(/^[\s,]+/, ""), tidy(line.slice(0, at)));
    if (found) return found;
  }
  for (const at of ends.slice(-MOST_WORDS).toReversed()) {
    const found = read(line.slice(0, at), tidy(line.slice(at)));
    if (found) return found;
  }
  return null;
}
