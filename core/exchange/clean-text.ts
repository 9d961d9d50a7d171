/** Texts on their way into other formats. */
import type { LonLat } from "../units/position.ts";
import { pointLabel, type Walk } from "../walk/walk.ts";

/** What XML 1.0 (fifth edition, production 2, Char) does not allow, beside lone surrogates. */
const NOT_XML =
  // eslint-disable-next-line no-control-regex
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g;

const LONE_SURROGATE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** Text that UTF-8 can hold: halves of a character become U+FFFD. */
export const wholeText = (text: string): string => text.replaceAll(LONE_SURROGATE, "\ufffd");

/** Text as XML can hold it, before it is escaped. */
export const xmlHeld = (text: string): string => wholeText(text).replaceAll(NOT_XML, "\ufffd");
export const losesInXml = (text: string): boolean => xmlHeld(text) !== text;

/** Text for an XML element or attribute: characters XML cannot hold become U+FFFD, a carriage return is written as a reference. */
export function xmlText(text: string): string {
  return xmlHeld(text)
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;")
    .replaceAll("\r", "&#13;");
}

/** Degrees with nine decimals, a tenth of a millimetre, without needless zeros and never in powers of ten. */
export function degreesText(degrees: number): string {
  const text = degrees.toFixed(9).replace(/\.?0+$/, "");
  return text === "-0" ? "0" : text;
}

interface WrittenPlace {
  /** Degrees as text; longitude runs from −180° up to, but not including, 180°, as GPX has it. */
  readonly lon: string;
  readonly lat: string;
}

export interface WrittenPoint extends WrittenPlace {
  readonly label: string;
  readonly note: string;
}

export function writtenPlace(lonLat: LonLat): WrittenPlace {
  const lon = degreesText(lonLat[0]);
  return { lon: lon === "180" ? "-180" : lon, lat: degreesText(lonLat[1]) };
}

export const writtenPoints = (walk: Walk): WrittenPoint[] =>
  walk.points.map(({ lonLat, note }, i) => ({
    label: pointLabel(walk, i),
    note,
    ...writtenPlace(lonLat),
  }));

/** `<name>text</name>`, or nothing for an empty text. */
export const element = (name: string, text: string): string =>
  text === "" ? "" : `<${name}>${xmlText(text)}</${name}>`;
