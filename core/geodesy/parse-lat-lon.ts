/**
 * Latitude and longitude in every usual way of writing them. Without letters latitude comes first, as on every
 * sheet and in ISO 6709; what can be read in two ways is refused.
 */
import { checkLonLat, type LonLat } from "../units/position.ts";
import { quoted, unreadable } from "./position-text.ts";

export interface ParsedLatLon {
  readonly lonLat: LonLat;
  readonly notation: "dd" | "dm" | "dms";
}

/** Stand-ins for the labels "lat" and "lon", so that one letter is one token. */
const LAT = "φ";
const LON = "λ";

/** One token: a number with its sign, or a single mark, letter or separator. */
type Token = string;

const isNumber = (token: Token | undefined): boolean => token !== undefined && /\d/.test(token);
const isSeparator = (token: Token | undefined): boolean => token !== undefined && ",;/".includes(token);

/**
 * @param text a position after `tidyPosition`
 * @throws Fault "bad-argument" with the reason
 */
export function parseLatLon(text: string): ParsedLatLon {
  if (text.startsWith("["))
    throw unreadable(
      "In square brackets longitude usually comes first, elsewhere latitude.",
      text,
      "Write N or S and E or W.",
    );
  const letters = spellLetters(text);
  const tokens = tokensOf(decimalPoints(letters, text), text);
  const [first, second, axes] = sidesOf(tokens, text);
  const a = angleOf(first, text);
  const b = angleOf(second, text);
  const latFirst = axes === null || axes[0] === LAT || "NS".includes(axes[0]);
  const signed = (angle: Angle, letter: string | null): number => {
    if (letter === null || letter === LAT || letter === LON) return angle.degrees;
    if (angle.signed)
      throw unreadable(`The sign and the letter ${letter} both say the side.`, text, "Write one of them.");
    return "SW".includes(letter) ? -angle.degrees : angle.degrees;
  };
  const values = [signed(a, axes?.[0] ?? null), signed(b, axes?.[1] ?? null)] as const;
  const lonLat: LonLat = latFirst ? [values[1], values[0]] : values;
  if (axes === null && Math.abs(lonLat[1]) > 90 && Math.abs(lonLat[0]) <= 90)
    throw unreadable(
      `Latitude ${lonLat[1]}° does not exist: it runs from −90° to 90°.`,
      text,
      "Latitude comes first; to write longitude first, add N or S and E or W.",
    );
  const parts = Math.max(a.parts, b.parts);
  return {
    lonLat: checkLonLat(lonLat, quoted(text)),
    notation: parts === 1 ? "dd" : parts === 2 ? "dm" : "dms",
  };
}

/** Words and unit letters replaced by single signs. */
function spellLetters(text: string): string {
  const marks = text
    .replace(/^geo:\s*([^;?]*).*$/i, "$1") // RFC 5870: latitude, longitude, then parameters
    .replace(/^\((.*)\)$/, "$1")
    .replace(/(\d)\s*(?:degrees?|deg\.?|d(?![a-z]{2}))/gi, "$1°")
    .replace(/(\d)\s*(?:minutes?|min\.?|m(?![a-z]{2}))/gi, "$1'")
    // A small s after minutes is seconds; a capital one, or one without minutes, is south.
    .replace(/('\s*\d+(?:[.,]\d+)?)\s*(?:seconds?|sec\.?|s(?![a-z]))/g, '$1"');
  const labelled = marks
    .replace(/\blat(?:itude)?\b\.?\s*[:=]?/gi, LAT)
    .replace(/\b(?:long?(?:itude)?|lng)\b\.?\s*[:=]?/gi, LON)
    .replace(/\b(north|south|east|west)\b/gi, (word) => word.charAt(0))
    .replace(/[a-z]/g, (letter) => letter.toUpperCase());
  return /[NSEW]/.test(labelled) ? labelled.replaceAll(LAT, "").replaceAll(LON, "") : labelled;
}

/** Decimal commas into points; a comma that could be either is refused. */
function decimalPoints(text: string, original: string): string {
  const glued = text.match(/\d,(?=\d)/g)?.length ?? 0;
  if (glued === 0 || text.includes(".")) return text;
  const points = text.replace(/(\d),(?=\d)/g, "$1.");
  // Letters, two degree signs or another separator already tell the two angles apart.
  const told =
    /[NSEWφλ]/.test(text) || (text.match(/°/g)?.length ?? 0) === 2 || /[,;/]/.test(points.replace(/\/$/, ""));
  if (told) return points;
  if (glued === 1) return text;
  if (glued === 2 && /^[+-]?[\d ]*\d,\d+ +[+-]?[\d ]*\d,\d+$/.test(text)) return points;
  throw unreadable(
    "The commas may be decimal signs or separators.",
    original,
    "Write decimals with a point.",
  );
}

function tokensOf(text: string, original: string): Token[] {
  // A dash with space on both sides between figures may be a minus or a dash.
  if (/[\d°'"] - \d/.test(text))
    throw unreadable(
      "The dash between the figures may be a minus.",
      original,
      "Write a comma between them, or E or W.",
    );
  const token = /[+-]?\s*(?:\d+(?:\.\d*)?|\.\d+)|[°'"NSEWφλ,;/:]/g;
  const left = text.replace(token, "").trim();
  if (left.startsWith("O"))
    throw unreadable("“O” is east in some languages and west in others.", original, "Write E or W.");
  // The word as it was typed: of "NaN" only "A" is left when the N is taken for north.
  const word = original.split(/[ ,;]+/).find((part) => part.toUpperCase().includes(left.charAt(0)));
  if (left)
    throw unreadable(
      `${quoted(word ?? left)} is not understood.`,
      original,
      "Write a position such as 47.3769 N 8.5417 E, 32 north 465403 5247151 or 32T MT 65403 47150.",
    );
  return (text.match(token) ?? []).map((part) => part.replace(/\s/g, ""));
}

type Sides = readonly [first: Token[], second: Token[], axes: readonly [string, string] | null];

/** The tokens of each of the two angles, with the letters that belong to them. */
function sidesOf(tokens: Token[], text: string): Sides {
  const at = tokens.flatMap((token, i) => (/[NSEWφλ]/.test(token) ? [i] : []));
  if (at.length === 0) return [...unletteredSides(tokens, text), null];
  const letters = at.map((i) => tokens[i] as string);
  const isLat = (letter: string | undefined): boolean => letter === LAT || letter === "N" || letter === "S";
  const [i, j] = at;
  if (i === undefined || j === undefined || at.length > 2)
    throw unreadable(
      at.length === 1 ? `Only one angle has a letter.` : "There are more than two letters.",
      text,
      "Write one of N and S and one of E and W, or signs alone.",
    );
  if (isLat(letters[0]) === isLat(letters[1]))
    throw unreadable(
      `Both angles are ${isLat(letters[0]) ? "latitudes" : "longitudes"}.`,
      text,
      "Write one of N and S and one of E and W.",
    );
  const prefix = i === 0;
  const first = prefix ? tokens.slice(i + 1, j) : tokens.slice(0, i);
  const second = prefix ? tokens.slice(j + 1) : tokens.slice(i + 1, j);
  if (!prefix && tokens.slice(j + 1).some((token) => !isSeparator(token)))
    throw unreadable(
      "There are figures after the last letter.",
      text,
      "Write each letter after its angle, or each before.",
    );
  return [trimSeparators(first), trimSeparators(second), [letters[0] as string, letters[1] as string]];
}

function trimSeparators(tokens: Token[]): Token[] {
  const from = isSeparator(tokens[0]) ? 1 : 0;
  return tokens.slice(from, isSeparator(tokens.at(-1)) ? -1 : undefined);
}

function unletteredSides(all: Token[], text: string): readonly [Token[], Token[]] {
  const tokens = trimSeparators(all);
  const separators = tokens.flatMap((token, i) => (isSeparator(token) ? [i] : []));
  const cut = (i: number): readonly [Token[], Token[]] => [tokens.slice(0, i), tokens.slice(i)];
  const [only] = separators;
  if (separators.length > 1)
    throw unreadable("There are more than two parts.", text, "Write latitude, a comma, longitude.");
  if (only !== undefined) return [tokens.slice(0, only), tokens.slice(only + 1)];
  const signed = tokens.findIndex((token, i) => i > 0 && /^[+-]/.test(token));
  if (signed > 0) return cut(signed);
  const numbers = tokens.flatMap((token, i) => (isNumber(token) ? [i] : []));
  const starts = numbers.filter((i) =>
    tokens.includes(":") ? tokens[i - 1] !== ":" : tokens[i + 1] === "°",
  );
  if (starts.length === 2) return cut(starts[1] as number);
  if (numbers.length < 2)
    throw unreadable("A position needs two figures.", text, "Write latitude and longitude.");
  if (starts.length > 0 || numbers.length % 2 === 1 || numbers.length > 6)
    throw unreadable(
      "It is not clear where latitude ends and longitude begins.",
      text,
      "Write a comma between them.",
    );
  return cut(numbers[numbers.length / 2] as number);
}

interface Angle {
  readonly degrees: number;
  /** 1 degrees, 2 with minutes, 3 with seconds. */
  readonly parts: number;
  readonly signed: boolean;
}

const MARKS = ["°", "'", '"'];
const NAMES = ["degrees", "minutes", "seconds"];

function angleOf(tokens: Token[], text: string): Angle {
  const numbers: string[] = [];
  let mark = 0;
  for (const token of tokens) {
    if (isNumber(token)) {
      if (numbers.length > 0 && /^[+-]/.test(token))
        throw unreadable(
          "A sign stands before minutes or seconds.",
          text,
          "Write the sign before the degrees.",
        );
      numbers.push(token);
      continue;
    }
    if (token === ":") continue;
    if (isSeparator(token))
      throw unreadable(
        "There is a separator inside an angle.",
        text,
        "Write one comma, between latitude and longitude.",
      );
    const kind = MARKS.indexOf(token);
    if (kind !== numbers.length - 1 || kind < mark)
      throw unreadable(
        `The sign ${token} stands where ${NAMES[numbers.length - 1] ?? "a figure"} should.`,
        text,
        "Write 47° 22′ 36.8″.",
      );
    mark = kind + 1;
  }
  if (numbers.length === 0)
    throw unreadable("One of the two angles is missing.", text, "Write latitude and longitude.");
  if (numbers.length > 3)
    throw unreadable(
      "An angle has more than degrees, minutes and seconds.",
      text,
      "Write a comma between latitude and longitude.",
    );
  let degrees = 0;
  numbers.forEach((number, i) => {
    const value = Math.abs(Number(number));
    if (i < numbers.length - 1 && number.includes("."))
      throw unreadable(
        `Decimals stand in the ${NAMES[i]} though ${NAMES[i + 1]} follow.`,
        text,
        "Write decimals in the last figure only.",
      );
    if (i > 0 && value >= 60)
      throw unreadable(`There are no ${value} ${NAMES[i]}: they run from 0 to 59.`, text);
    degrees += value / 60 ** i;
  });
  const signed = /^[+-]/.test(numbers[0] as string);
  return { degrees: numbers[0]?.startsWith("-") ? -degrees : degrees, parts: numbers.length, signed };
}
