/** UTM and UPS coordinates as typed: zone, hemisphere or band, easting and northing, with or without labels. */
import { normalise180 } from "../units/angle.ts";
import type { LonLat } from "../units/position.ts";
import { inverse } from "./geodesic.ts";
import { bandEdges } from "./mgrs-square.ts";
import { quoted, unreadable } from "./position-text.ts";
import { fromUtm } from "./utm.ts";
import { BANDS, utmZoneOf } from "./utm-zone.ts";

type Hemisphere = "N" | "S";

/** Rounded coordinates may lie a few metres beyond their band. */
const BAND_SLACK_DEG = 0.001;

interface Parts {
  readonly zone: number | null;
  /** A hemisphere in full, a single letter that may be band or hemisphere, or nothing. */
  readonly side: string | null;
  readonly eastingM: number;
  readonly northingM: number;
  readonly ups: boolean;
}

const tokensOf = (text: string): string[] =>
  text
    .toUpperCase()
    .replace(/\b(?:ON )?WGS ?-?84\b|\b(?:UTM|ZONE|GRID|HEMISPHERE|COORDINATES?)\b/g, " ")
    .replace(/\b(?:EASTINGS?)\b/g, "E")
    .replace(/\b(?:NORTHINGS?)\b/g, "N")
    // Decimal comma only where no point is and a separator or space follows its figures.
    .replace(/(\d),(\d+)(?=[ ,;A-Z]|$)/g, (all, a: string, b: string) =>
      b.length < 5 && !text.includes(".") ? `${a}.${b}` : all,
    )
    .replace(/[,;:=]/g, " ")
    .match(/\d+(?:\.\d*)?|[A-Z]+|[^\s\dA-Z]+/g) ?? [];

const isNumber = (token: string): boolean => /^\d/.test(token);

/** Whether text is meant as UTM: no angle signs, two or three figures, one of at least 100 000. */
export function isUtm(text: string): boolean {
  if (/[°'"]/.test(text)) return false;
  if (/\b(?:UTM|UPS)\b/i.test(text)) return true;
  const numbers = tokensOf(text).filter(isNumber).map(Number);
  return (numbers.length === 2 || numbers.length === 3) && Math.max(...numbers) >= 100_000;
}

/**
 * @param text coordinates after `tidyPosition`
 * @param near where the map is: supplies a zone or hemisphere left out
 * @throws Fault "bad-argument" with the reason, "out-of-range" for coordinates no place has
 */
export function parseUtm(text: string, near: LonLat | null): LonLat {
  const { zone: typedZone, side, eastingM, northingM, ups } = partsOf(tokensOf(text), text);
  const at = (zone: number, hemisphere: Hemisphere): LonLat => {
    const [lon, lat] = fromUtm({ zone, hemisphere, eastingM, northingM });
    return [normalise180(lon), lat];
  };
  if (ups) return at(0, side === "NORTH" || side === "Y" || side === "Z" || side === "N" ? "N" : "S");
  const zone = typedZone ?? (near ? utmZoneOf(near) : null);
  if (zone === null) throw unreadable("The UTM zone is missing.", text, "Write it first, such as 32 north.");
  if (typedZone !== null && (!Number.isInteger(zone) || zone < 1 || zone > 60))
    throw unreadable(`UTM zone ${zone} does not exist: zones run from 1 to 60.`, text, "Check the zone.");
  if (side === null) {
    if (!near) throw unreadable("The hemisphere is missing.", text, "Write north or south after the zone.");
    return at(zone, near[1] < 0 ? "S" : "N");
  }
  if (side === "NORTH" || side === "N") return at(zone, "N");
  if (side === "SOUTH") return at(zone, "S");
  if (side === "S") return southOrBandS(at, zone, northingM, text, near);
  if (!BANDS.includes(side) || side.length !== 1)
    throw unreadable(
      `${quoted(side)} is no band: bands run from C to X without I and O.`,
      text,
      "Write north or south after the zone.",
    );
  const place = at(zone, side < "N" ? "S" : "N");
  if (!inBand(place, side))
    throw unreadable(
      `That northing does not lie in band ${side}, which runs from ${bandText(side)}.`,
      text,
      "Check the band and the northing.",
    );
  return place;
}

function inBand([, lat]: LonLat, band: string): boolean {
  const [south, north] = bandEdges(band);
  return lat >= south - BAND_SLACK_DEG && lat <= north + BAND_SLACK_DEG;
}

function bandText(band: string): string {
  const edge = (deg: number): string => `${Math.abs(deg)}°${deg === 0 ? "" : deg < 0 ? " S" : " N"}`;
  return bandEdges(band).map(edge).join(" to ");
}

/** "S" after a zone is the southern hemisphere to some and the band from 32° to 40° north to others. */
function southOrBandS(
  at: (zone: number, hemisphere: Hemisphere) => LonLat,
  zone: number,
  northingM: number,
  text: string,
  near: LonLat | null,
): LonLat {
  const band = northingM <= 9_600_000 ? at(zone, "N") : null;
  const south = northingM >= 1_100_000 ? at(zone, "S") : null;
  if (band && inBand(band, "S")) {
    if (!south) return band;
    if (!near)
      throw unreadable(
        "The S may mean the southern hemisphere or the band from 32° to 40° north.",
        text,
        `Write ${zone} south, or ${zone} north for the band.`,
      );
    return inverse(near, band).distanceM < inverse(near, south).distanceM ? band : south;
  }
  return at(zone, "S");
}

function partsOf(all: string[], text: string): Parts {
  const ups = all.includes("UPS") || (/^[ABYZ]$/.test(all[0] ?? "") && all.filter(isNumber).length === 2);
  const tokens = all.filter((token) => token !== "UPS");
  const odd = tokens.find((token) => !isNumber(token) && !/^[A-Z]+$/.test(token));
  if (odd)
    throw unreadable(
      `${quoted(odd)} does not belong in UTM coordinates.`,
      text,
      "Write 32 north 465403 5247151.",
    );
  const numbers = tokens.filter(isNumber);
  if (numbers.length < 2 || numbers.length > 3)
    throw unreadable(
      `UTM has a zone, an easting and a northing, not ${numbers.length} figures.`,
      text,
      "Write 32 north 465403 5247151.",
    );
  if (ups && numbers.length === 3)
    throw unreadable("UPS has no zone.", text, "Write UPS north and two figures.");
  // A zone written last is moved to the front with what follows it.
  const last = tokens.lastIndexOf(numbers.at(-1) as string);
  const zoneLast = numbers.length === 3 && Number(numbers[2]) < 100 && Number(numbers[0]) >= 1000;
  const ordered = zoneLast ? [...tokens.slice(last), ...tokens.slice(0, last)] : tokens;
  return labelled(ordered, numbers.length === 3, ups, text);
}

/** Easting and northing by their labels if they have any, else in that order. */
function labelled(tokens: string[], hasZone: boolean, ups: boolean, text: string): Parts {
  const at = tokens.flatMap((token, i) => (isNumber(token) ? [i] : []));
  const [i = 0, j = 0] = hasZone ? at.slice(1) : at;
  const words = (part: string[]): string[] =>
    part.map(unitless).filter((word) => word !== "" && !isNumber(word));
  const head = words(tokens.slice(0, i));
  const middle = words(tokens.slice(i + 1, j));
  const tail = words(tokens.slice(j + 1));
  const isLabel = (word: string | undefined): word is "E" | "N" => word === "E" || word === "N";
  let labels: readonly (string | undefined)[] = [];
  if (tail.length > 0) labels = [middle.shift(), tail.shift()];
  else if (middle.length > 0) labels = [head.pop(), middle.shift()];
  const left = [...middle, ...tail];
  if (
    left.length > 0 ||
    head.length > 1 ||
    labels.some((label) => !isLabel(label)) ||
    (labels.length > 0 && labels[0] === labels[1])
  )
    throw unreadable(
      `The letters in these UTM coordinates are not understood.`,
      text,
      "Write 32 north 465403 5247151, or E and N with the figures.",
    );
  const values = [Number(tokens[i]), Number(tokens[j])] as const;
  const [eastingM, northingM] = labels[0] === "N" ? [values[1], values[0]] : values;
  return {
    zone: hasZone ? Number(tokens[at[0] as number]) : null,
    side: head[0] ?? null,
    eastingM,
    northingM,
    ups,
  };
}

/** "ME" and "MN" are metres east and north; "M" alone says nothing. */
const unitless = (word: string): string => (/^M[EN]?$/.test(word) ? word.slice(1) : word);
