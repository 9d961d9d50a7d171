/** A leg as one says it: "from B 247° 640 m", "N 40 W grid, 300 yd". */
import { Fault } from "../../core/fault.ts";
import { parseBearing } from "../../core/units/parse-bearing.ts";
import { lengthUnit, parseLength } from "../../core/units/length.ts";
import type { North } from "../../core/walk/walk.ts";
import { findWords } from "../words/find-words.ts";

export interface TypedLeg {
  /** Place of the start in the walk; null when none was named. */
  readonly from: number | null;
  readonly bearingDeg: number;
  /** As typed; null leaves it to the walk. */
  readonly north: North | null;
  readonly distanceM: number;
  /** As typed: "300 yd". */
  readonly distanceText: string;
}

/** What a point may be called by. */
export interface NamedPoint {
  readonly label: string;
  /** The letter of its place in the walk, which stands on the map where its name does not fit. */
  readonly letter: string;
}

// The unit is a word: a prime or a double prime at the end is an angle's. No spaces in the figure: the one before it
// parts it from the bearing.
const LENGTH = /^(.+?)[\s,;]+(?:for\s+)?(\d+(?:[.,]\d+)?)\s*([a-z]+)\.?$/i;
const NORTH = /[\s,]*\b(mag(?:netic)?|grid|true)\b\.?(?:\s+north)?$/i;
const FIGURE = /^-?\d{1,4}(?:[.,]\d+)?\s*(?:°|deg(?:rees?)?|mils?)?$/i;
/** Lengths on paper are no legs. */
const PAPER = ["mm", "cm", "in"];

/**
 * @returns null when the text does not have the form of a leg: it may be a position or a name
 * @throws Fault "bad-argument" when it does and something in it cannot be
 */
export function parseTypedLeg(text: string, points: readonly NamedPoint[]): TypedLeg | null {
  const [, before = "", figure = "", word = ""] = LENGTH.exec(text.trim()) ?? [];
  const unit = lengthUnit(word);
  if (unit === null || PAPER.includes(unit)) return null;
  const northWord = NORTH.exec(before);
  const head = (northWord ? before.slice(0, northWord.index) : before).trim();
  const said = head.replace(/^from\s+/i, "");
  const named = said !== head;
  const from = named || !isBearing(said) ? pointNamed(said, points) : null;
  const bearingText = from ? said.slice(from.length).replace(/^[\s,:]+/, "") : said;
  if (!isBearing(bearingText)) {
    if (named && !from)
      throw new Fault("bad-argument", findWords.noSuchPoint, `“${said}”`, findWords.nameAPoint);
    if (!from && !FIGURE.test(bearingText)) {
      if (startsWithName(said))
        throw new Fault("bad-argument", findWords.noSuchPoint, `“${said}”`, findWords.nameAPoint);
      return null;
    }
  }
  return {
    from: from?.index ?? null,
    bearingDeg: parseBearing(bearingText),
    north: northWord ? northOf(northWord[1] ?? "") : null,
    distanceM: parseLength(`${figure} ${word}`),
    distanceText: `${figure}\u00a0${word}`,
  };
}

function isBearing(text: string): boolean {
  try {
    parseBearing(text);
    return true;
  } catch {
    return false;
  }
}

/** "Z 90": words and then a bearing, where no point is called that. */
function startsWithName(text: string): boolean {
  const [, name = "", bearing = ""] = /^(\D+?)[\s,:]+(\d.*)$/.exec(text) ?? [];
  return /\p{Letter}/u.test(name) && FIGURE.test(bearing);
}

function northOf(word: string): North {
  const lower = word.toLowerCase();
  return lower.startsWith("mag") ? "magnetic" : (lower as "grid" | "true");
}

/** The point whose name or letter the text begins with; the longest name counts. */
function pointNamed(
  text: string,
  points: readonly NamedPoint[],
): { readonly index: number; readonly length: number } | null {
  const lower = text.toLowerCase();
  let best: { readonly index: number; readonly length: number } | null = null;
  points.forEach(({ label, letter }, index) => {
    for (const name of [label, letter]) {
      const begins = lower.startsWith(name.toLowerCase()) && /^[\s,:]/.test(text.slice(name.length));
      if (begins && name.length > (best?.length ?? 0)) best = { index, length: name.length };
    }
  });
  return best;
}
