/** The words of a leg's description. Every one of them is something to be seen or felt on the ground. */
import type { LegLandform } from "../../terrain/landforms/landforms-along.ts";
import { FOOT_M, isMetric, type LengthUnit, oneUnitOf } from "../../units/format.ts";
import type { Crossing } from "../line-aids.ts";
import { lengthInNote } from "../leg-words.ts";
import { kindAndName, kindWord } from "../line-kinds.ts";
import type { Grade, Trend } from "./trends.ts";
import type { Turn } from "./way-items.ts";

/** "about 60 m", "about 200 ft": to what a person can tell. */
function aboutHeight(metres: number, unit: LengthUnit): string {
  const value = Math.abs(metres) / (isMetric(unit) ? 1 : FOOT_M);
  const step = value < 20 ? 1 : value < 200 ? 5 : 10;
  return `about ${Math.max(1, Math.round(value / step) * step)} ${isMetric(unit) ? "m" : "ft"}`;
}

function aboutLength(metres: number, unit: LengthUnit): string {
  if (oneUnitOf(unit)) return lengthInNote(metres, unit);
  const step = isMetric(unit) ? 10 : 50 * FOOT_M;
  return lengthInNote(Math.max(step, Math.round(metres / step) * step), unit);
}

/** Ups and downs worth a word: so many metres, and such a share of the rise. No source. */
const UNEVEN_M = 6;
const UNEVEN_SHARE = 0.3;

const ADVERBS: Readonly<Record<Grade, string>> = {
  level: "",
  gentle: "gently",
  steady: "steadily",
  steep: "steeply",
  "very steep": "very steeply",
};

const article = (word: string): string => (/^[aeio]/i.test(word) ? `an ${word}` : `a ${word}`);

const WATERS: ReadonlySet<string> = new Set(["stream", "river"]);

/** "a stream", "the stream Fern Beck", "Moor Road" */
function called(kind: Crossing["kind"], name: string | null): string {
  if (name === null) return article(kindWord(kind));
  const words = kindAndName(kind, name);
  // Roads and paths go by their names alone, waters with the article.
  return words === name && !WATERS.has(kind) ? name : `the ${words}`;
}

/** How the ground runs on: "climb steadily, about 60 m up over 280 m", "go down a spur, falling gently, …" */
export function trendWords({ after, along }: Turn, lengthM: number, unit: LengthUnit): string {
  const { grade, riseM, fromM, toM, unevenM } = after;
  const last = toM >= lengthM - 0.5;
  const all = last && fromM < 0.5;
  const far = `${last ? "the last " : ""}${aboutLength(toM - fromM, unit)}`;
  const form = along && article(along.kind);
  const pointed = along?.kind === "spur" || along?.kind === "draw";
  const uneven = unevenM >= UNEVEN_M && unevenM >= UNEVEN_SHARE * Math.abs(riseM);
  if (grade === "level" && uneven)
    return `go up and down by ${aboutHeight(unevenM, unit)}${form ? ` along ${form}` : ""} ${all ? "all the way" : `for ${far}`}, ending about level`;
  if (grade === "level")
    return `keep about level${form ? ` along ${form}` : ""} ${all ? "all the way" : `for ${far}`}`;
  const up = riseM > 0;
  const sum = `${uneven ? "with ups and downs, " : ""}${aboutHeight(riseM, unit)} ${up ? "up" : "down"} ${all ? "all the way" : `over ${far}`}`;
  if (!form) return `${up ? "climb" : "go down"} ${ADVERBS[grade]}, ${sum}`;
  const way = pointed ? (up ? "up" : "down") : "along";
  return `go ${way} ${form}, ${up ? "climbing" : "falling"} ${ADVERBS[grade]}, ${sum}`;
}

/** A change of slope that comes with nothing else: "the climb steepens: climb steeply, …" */
export function turnWords(turn: Turn, lengthM: number, unit: LengthUnit): string {
  const way = trendWords(turn, lengthM, unit);
  const { before, after } = turn;
  if (!before) return way;
  const [was, is] = [sense(before), sense(after)];
  if (is === 0) return `the ${was > 0 ? "climb" : "fall"} ends: ${way}`;
  if (was === 0) return `the ground begins to ${is > 0 ? "climb" : "fall"}: ${way}`;
  if (was !== is)
    return `the ${was > 0 ? "climb" : "fall"} ends and the ground ${is > 0 ? "climbs" : "falls"}: ${way}`;
  const steeper = Math.abs(after.slopeDeg) > Math.abs(before.slopeDeg);
  return `the ${is > 0 ? "climb" : "fall"} ${steeper ? "steepens" : "eases"}: ${way}`;
}

const sense = ({ grade, riseM }: Trend): -1 | 0 | 1 => (grade === "level" ? 0 : riseM > 0 ? 1 : -1);

/** ", 2 m wide", " of stone" */
const withDetail = (detail: string | null): string =>
  detail === null ? "" : detail.startsWith("of ") ? ` ${detail}` : `, ${detail}`;

/** What one does at a line: "cross a wall", "step over the stream Fern Beck, 1 m wide", "enter High Wood" */
export function lineWords({
  kind,
  name,
  detail,
  enters,
}: Pick<Crossing, "kind" | "name" | "detail" | "enters">): string {
  // The terrain tells a spur from a ridge and a draw from a valley; the line drawn on the map does not.
  if (detail === "a spur" || detail === "a draw")
    return lineWords({ kind: detail === "a spur" ? "spur" : "draw", name, detail: null, enters });
  const what = called(kind, name);
  if (kind === "woodEdge") {
    const wood = name ?? "a wood";
    if (enters === true) return `go into ${wood}`;
    if (enters === false) return `come out of ${name ?? "the wood"}`;
    return `come to the edge of ${wood}`;
  }
  const more = withDetail(detail);
  switch (kind) {
    case "stream":
      return `${/\bunder\b|\b1 m wide/.test(detail ?? "") ? "step over" : "cross"} ${what}${more}`;
    case "river":
      return `come to ${what}${more}: look where it can be crossed`;
    case "shore":
      return `come to ${name === null ? "a shore" : `the shore of ${name}`}`;
    case "rail":
      return `come to ${what}${more}: cross only where that is allowed`;
    case "powerLine":
      return `pass under ${what}${more}`;
    case "cliff":
      return `come to ${what}: look for a way round`;
    case "wetland":
      return `come to ${what}`;
    case "restricted":
      return `come to the edge of ${name ?? "a restricted area"}`;
    case "ridge":
    case "spur":
      return `go over ${what}${more}`;
    case "draw":
      return `go down into ${what} and out of it${more}`;
    default:
      return `cross ${what}${more}`;
  }
}

/** Words for a line already told: "the wall", "Moor Road" */
export function again({ kind, name }: Pick<Crossing, "kind" | "name">): string {
  if (kind === "woodEdge") return name === null ? "the wood edge" : `the edge of ${name}`;
  if (kind === "shore") return name === null ? "the shore" : `the shore of ${name}`;
  return name === null ? `the ${kindWord(kind)}` : called(kind, name);
}

export function formWords({ kind, name }: LegLandform): string {
  if (kind === "hill") return `go over the top of ${name ?? "a hill"}`;
  if (kind === "cliff") return "the ground is as steep as a cliff, or nearly: look for a way round";
  return `go ${kind === "depression" ? "through" : "over"} ${name ?? article(kind)}`;
}

/** The ground an end of the leg lies on: "on the top of Gale Fell", "in a saddle", "on a spur" */
export function standingOn({ kind, name }: LegLandform, label: string): string {
  if (kind === "hill") return name === label ? "on the top" : `on the top of ${name ?? "a hill"}`;
  const low = kind === "saddle" || kind === "draw" || kind === "valley" || kind === "depression";
  return `${low ? "in" : "on"} ${name ?? article(kind)}`;
}

export const insideWords = ({ kind, name }: Crossing): string =>
  kind === "shore"
    ? `the straight leg lies in the water${name === null ? "" : ` of ${name}`}: go round it`
    : `the straight leg lies in a restricted area${name === null ? "" : ` (${name})`}: keep out of it where entry is not allowed`;

export const alongWords = ({ kind }: LegLandform): string => `you walk along ${article(kind)}`;

/** "From 300 m to 420 m", "From 300 m on" */
export function fromTo(fromM: number, toM: number, lengthM: number, unit: LengthUnit): string {
  const from = `From ${lengthInNote(fromM, unit)}`;
  return toM >= lengthM - 0.5 ? `${from} on` : `${from} to ${lengthInNote(toM, unit)}`;
}
