/** What a typed text means on this map and this walk. Nothing moves until the person says so. */
import { Fault } from "../../core/fault.ts";
import { direct } from "../../core/geodesy/geodesic.ts";
import { toUtm } from "../../core/geodesy/utm.ts";
import { declinationsAt } from "../../core/legs/norths/declinations.ts";
import {
  gridBearing,
  gridToTrue,
  magneticBearing,
  magneticToTrue,
  trueBearing,
  type TrueBearing,
} from "../../core/units/angle.ts";
import { formatBearing, formatEastWest } from "../../core/units/format.ts";
import type { LonLat } from "../../core/units/position.ts";
import type { North, Walk } from "../../core/walk/walk.ts";
import { findWords } from "../words/find-words.ts";
import { kindWord } from "../../core/legs/line-kinds.ts";
import { matchNames, type Nameable } from "./match-names.ts";
import type { NamedPlace } from "./named-places.ts";
import { type ReadTyped, type Reading, readTyped } from "./read-typed.ts";
import { type NamedPoint, parseTypedLeg, type TypedLeg } from "./typed-leg.ts";

export interface WalkPlace extends NamedPoint {
  readonly lonLat: LonLat;
}

export interface Asked extends Reading, Pick<Walk, "date" | "declination" | "north"> {
  readonly points: readonly WalkPlace[];
  /** The point from which a leg without a start counts; null when the walk has none. */
  readonly from: number | null;
  readonly places: readonly NamedPlace[];
}

export interface Understood {
  readonly lonLat: LonLat;
  /** What it is called in a list. */
  readonly title: string;
  /** … and what it is. */
  readonly kind: string;
  /** How the text was read. */
  readonly readAs: string;
  /** Side of the square that was named, metres; null when a place was named. */
  readonly precisionM: number | null;
  /** It is this point of the walk. */
  readonly point: number | null;
  /** What the reading itself rests on, in sentences. */
  readonly how: readonly string[];
}

export type Understanding =
  | { readonly kind: "nothing" }
  | { readonly kind: "fault"; readonly fault: Fault }
  /** At least one; the likeliest first. */
  | { readonly kind: "places"; readonly places: readonly Understood[] };

/** Never throws: what cannot be read is a fault with its reason and remedy. */
export function understand(text: string, asked: Asked): Understanding {
  if (text.trim() === "") return { kind: "nothing" };
  try {
    const leg = parseTypedLeg(text, asked.points);
    if (leg) return { kind: "places", places: [endOfLeg(leg, asked)] };
    const named = namesOf(text, asked);
    const read = readOrFault(text, asked);
    const exact = named.some(({ exact: whole }) => whole);
    const places = named.map(({ place }) => place);
    if (!(read instanceof Fault))
      return {
        kind: "places",
        places: exact ? [...places, positionOf(read)] : [positionOf(read), ...places],
      };
    if (places.length > 0) return { kind: "places", places };
    // A word alone was meant as a name.
    if (!/\d/.test(text))
      throw new Fault("bad-argument", findWords.noSuchName, `“${text.trim()}”`, findWords.whatToWrite);
    throw read;
  } catch (thrown) {
    return { kind: "fault", fault: Fault.from(thrown) };
  }
}

function readOrFault(text: string, asked: Asked): ReadTyped | Fault {
  try {
    return readTyped(text, asked);
  } catch (thrown) {
    return Fault.from(thrown);
  }
}

const positionOf = ({ lonLat, precisionM, readAs }: ReadTyped): Understood => ({
  lonLat,
  title: findWords.position,
  kind: readAs,
  readAs,
  precisionM,
  point: null,
  how: precisionM === null ? [] : [findWords.how.middleOfSquare(findWords.side(precisionM))],
});

interface Listed extends Nameable {
  readonly place: Understood;
}

function namesOf(text: string, { points, places, near }: Asked) {
  const listed: Listed[] = [
    ...points.map(({ label, letter, lonLat }, i) => ({
      names: [label, letter],
      lonLat,
      place: {
        lonLat,
        title: label,
        kind: findWords.pointKind,
        readAs: findWords.readAs.point(label),
        precisionM: null,
        point: i,
        how: [],
      },
    })),
    ...places.map(({ name, kind, lonLat, spot }) => ({
      names: [name],
      lonLat,
      place: {
        lonLat,
        title: name,
        kind: kindWord(kind),
        readAs: findWords.readAs.named(kindWord(kind), name),
        precisionM: null,
        point: null,
        how: spot ? [] : [findWords.how.middleOfNamed(name)],
      },
    })),
  ];
  return matchNames(text, listed, near).map(({ thing, exact }) => ({ place: thing.place, exact }));
}

/** @throws Fault "bad-argument" when there is no point to start from or no declination to turn the bearing by */
function endOfLeg(leg: TypedLeg, asked: Asked): Understood {
  const index = leg.from ?? asked.from;
  const start = index === null ? undefined : asked.points[index];
  if (!start) throw new Fault("bad-argument", findWords.noStart, null, findWords.drawStart);
  const north = leg.north ?? asked.north;
  const { bearing, how } = trueOf(leg.bearingDeg, north, start.lonLat, asked);
  const bearingText = formatBearing(leg.bearingDeg, { graduationDeg: leg.bearingDeg % 1 ? 0.1 : 1 });
  const readAs = findWords.readAs.leg(start.label, bearingText, findWords.norths[north], leg.distanceText);
  return {
    lonLat: direct(start.lonLat, bearing, leg.distanceM),
    title: findWords.endOfLeg,
    kind: readAs,
    readAs,
    precisionM: null,
    point: null,
    how: [...how, findWords.how.geodesic],
  };
}

function trueOf(
  degrees: number,
  north: North,
  at: LonLat,
  { date, declination }: Asked,
): { readonly bearing: TrueBearing; readonly how: readonly string[] } {
  if (north === "true") return { bearing: trueBearing(degrees), how: [] };
  const { convergenceDeg } = toUtm(at);
  if (north === "grid")
    return {
      bearing: gridToTrue(gridBearing(degrees), convergenceDeg),
      how: [findWords.how.fromGrid(formatEastWest(convergenceDeg, 2))],
    };
  const { deg, from, modelMissing } = declinationsAt(at, null, convergenceDeg, { date, declination });
  if (deg === null)
    throw new Fault("bad-argument", findWords.noDeclination, modelMissing, findWords.writeOtherNorth);
  return {
    bearing: magneticToTrue(magneticBearing(degrees), deg),
    how: [findWords.how.fromMagnetic(formatEastWest(deg, 2), findWords.how.rules[from])],
  };
}
