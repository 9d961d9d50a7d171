/** A candidate of a file becomes a walk. */
import { Fault } from "../fault.ts";
import { emptyWalk, NOTHING_UNKNOWN, pointLetter, type Walk } from "../walk/walk.ts";
import { checkPointPosition, MAX_POINTS, MAX_TEXT } from "../walk/walk-rules.ts";
import type { Candidate, Exchange } from "./exchange.ts";
import { thinLine } from "./thin-line.ts";

export interface Choice {
  /** Which candidate, counted from 0. */
  readonly pick: number;
  /** How far a dropped position may lie from its leg, metres; null keeps all. */
  readonly toleranceM: number | null;
  /** Day given to the walk, YYYY-MM-DD. */
  readonly date: string;
  /** Title of a walk whose file has none. */
  readonly fallbackTitle: string;
}

export interface WalkFromFile {
  readonly walk: Walk;
  /** What was thinned, changed or left out, in plain sentences. */
  readonly report: readonly string[];
  /** Positions there were, which of them became points, and how far off the farthest of the rest lies, metres. */
  readonly thinned: { readonly of: number; readonly kept: readonly number[]; readonly largestM: number };
}

const LONGEST_NAME = 200;

/**
 * @throws Fault "bad-argument" for a choice that is none, "bad-features" when more points remain than a walk holds, or one
 *   lies where a walk cannot be
 */
export function walkFrom(exchange: Exchange, choice: Choice): WalkFromFile {
  const candidate = exchange.candidates[choice.pick];
  if (!candidate)
    throw new Fault(
      "bad-argument",
      `There is no number ${choice.pick + 1}: the file holds ${exchange.candidates.length}.`,
    );
  const report: string[] = [...exchange.report];
  const thinned = keptOf(candidate, choice.toleranceM, report);
  const { kept } = thinned;
  if (kept.length > MAX_POINTS)
    throw new Fault(
      "bad-features",
      `${kept.length} points remain; a walk holds at most ${MAX_POINTS}.`,
      `${candidate.kind} ${choice.pick + 1}`,
      "Thin the track with a coarser tolerance.",
    );
  let cut = 0;
  const within = (text: string, most: number): string => {
    if (text.length > most) cut++;
    return text.length > most ? text.slice(0, most) : text;
  };
  const points: Walk["points"] = kept.map((from, i) => {
    const name = candidate.names[from] ?? null;
    const lonLat = candidate.positions[from] as readonly [number, number];
    return {
      id: `p${i + 1}`,
      // The letter a point has anyway is no name of its own: it goes on with its place.
      name: name === null || name === pointLetter(i) ? null : within(name, LONGEST_NAME),
      lonLat: checkPointPosition(lonLat, `position ${from + 1}`),
      note: within(candidate.pointNotes[from] ?? "", MAX_TEXT),
      unknown: NOTHING_UNKNOWN,
      aimOff: false,
      instruction: null,
      unknownOfLeg: NOTHING_UNKNOWN,
    };
  });
  const walk: Walk = {
    ...emptyWalk(choice.date),
    title: within(candidate.name ?? exchange.title ?? choice.fallbackTitle, LONGEST_NAME),
    notes: within(candidate.notes || exchange.notes, MAX_TEXT),
    points,
  };
  if (candidate.heights > 0)
    report.push(
      `Heights of ${candidate.heights} positions were left out: a walk takes heights from its map.`,
    );
  if (candidate.times) report.push("Times were left out: a walk works its times out.");
  if (cut > 0) report.push(`Texts that were too long were cut: ${cut}.`);
  const others = exchange.candidates.length - 1;
  if (others > 0)
    report.push(`The file holds ${others} more that ${others === 1 ? "was" : "were"} not taken.`);
  return { walk, report, thinned };
}

function keptOf(candidate: Candidate, toleranceM: number | null, report: string[]): WalkFromFile["thinned"] {
  const all = [...candidate.positions.keys()];
  if (toleranceM === null || all.length < 3) return { of: all.length, kept: all, largestM: 0 };
  const { kept, largestM } = thinLine(candidate.positions, toleranceM);
  report.push(
    `Of ${all.length} positions ${kept.length} remain, within ${toleranceM} m; the one farthest off lies ${largestM.toFixed(1)} m beside its leg.`,
  );
  const stay = new Set(kept);
  const names = candidate.names.filter((name, i) => name !== null && !stay.has(i)).length;
  if (names > 0) report.push(`Names of positions that were dropped went with them: ${names}.`);
  const notes = candidate.pointNotes.filter((note, i) => note !== "" && !stay.has(i)).length;
  if (notes > 0) report.push(`Notes on positions that were dropped went with them: ${notes}.`);
  return { of: all.length, kept, largestM };
}
