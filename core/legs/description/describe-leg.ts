/** A leg in plain words, in order of walking, to be checked off on the ground. */
import type { LegLandform } from "../../terrain/landforms/landforms-along.ts";
import type { LengthUnit } from "../../units/format.ts";
import type { Crossing, LegFigures, WayStep } from "../figures.ts";
import type { LegSettings } from "../leg-settings.ts";
import { AT_END_M, lengthInNote } from "../leg-words.ts";
import { paceFigures } from "../pace-figures.ts";
import { elevationAt } from "../profile-height.ts";
import { chosenItems, GROUND, liesAt, type WayItem, wayItems } from "./way-items.ts";
import {
  again,
  alongWords,
  formWords,
  fromTo,
  insideWords,
  lineWords,
  standingOn,
  trendWords,
  turnWords,
} from "./way-words.ts";

/** Lines so near one another are told in one sentence, metres. No source. */
const ONE_SENTENCE_M = 30;
/** The target is told from the last line before it within this distance, metres. No source. */
const FROM_LINE_M = 250;

type Step = Pick<WayStep, "atM" | "toM" | "words">;

/**
 * From a leg's figures: lines crossed, landforms, the run of the ground, and where the map cannot tell. Says nothing that
 * is not in them; without lines and heights it says nothing at all. One sentence a step, in order.
 */
export function describeLeg(
  leg: LegFigures,
  settings: Pick<LegSettings, "lengthUnit" | "pacesPer100m" | "upPer100m" | "downPer100m">,
): WayStep[] {
  const { distanceM, profile } = leg;
  if (!(distanceM > 0)) return [];
  const unit = settings.lengthUnit;
  const { start, items } = wayItems(leg);
  const chosen = chosenItems(items, distanceM);
  const [onStart, onEnd] = [placeWords(leg, 0, start?.along ?? null), placeWords(leg, distanceM, null)];
  if (!start && chosen.length === 0 && onStart === "" && onEnd === "") return [];
  const steps: Step[] = [];
  if (start)
    steps.push({
      atM: 0,
      toM: start.after.toM,
      words: `From ${leg.from}${onStart}${onStart !== "" || leg.from.includes(",") ? "," : ""} ${trendWords(start, distanceM, unit)}.`,
    });
  else if (onStart !== "")
    steps.push({ atM: 0, toM: 0, words: `${leg.from} is ${onStart.replace(/^, /, "")}.` });
  for (let i = 0; i < chosen.length; i++) {
    const group = [chosen[i] as WayItem];
    while (joins(group, chosen[i + 1])) group.push(chosen[++i] as WayItem);
    steps.push(stepOf(group, distanceM, unit));
  }
  steps.push(arrival(leg, chosen, onEnd, unit));
  const paces = paceFigures(profile, distanceM, settings);
  return steps.map(({ atM, toM, words }) => ({
    atM,
    toM,
    paces: paces.upTo(atM),
    elevationM: elevationAt(profile, atM),
    words,
  }));
}

/** Plain lines close together, the run of the ground being told after the last of them. */
const joins = (group: readonly WayItem[], next: WayItem | undefined): boolean => {
  const last = group.at(-1) as WayItem;
  return (
    last.is === "line" &&
    next?.is === "line" &&
    last.trend === null &&
    group.length < 3 &&
    next.atM - last.atM <= ONE_SENTENCE_M
  );
};

function stepOf(group: readonly WayItem[], lengthM: number, unit: LengthUnit): Step {
  const [first, last] = [group[0] as WayItem, group.at(-1) as WayItem];
  const at = `At ${lengthInNote(first.atM, unit)}`;
  const stretch = fromTo(first.atM, first.toM, lengthM, unit);
  const then = last.trend ? `; then ${trendWords(last.trend, lengthM, unit)}` : "";
  const toM = last.trend ? Math.max(last.toM, last.trend.after.toM) : last.toM;
  const step = (words: string): Step => ({ atM: first.atM, toM, words: `${words}.` });
  switch (first.is) {
    case "line": {
      const more = group.slice(1).map((item, i) => {
        const gapM = item.atM - (group[i] as WayItem).atM;
        const words = item.is === "line" ? lineWords(item.crossing) : "";
        return gapM < 1 ? `, and ${words}` : `, and ${lengthInNote(gapM, unit)} on ${words}`;
      });
      return step(`${at} ${lineWords(first.crossing)}${more.join("")}${then}`);
    }
    case "form":
      return step(
        first.form.kind === "cliff"
          ? `${stretch} ${formWords(first.form)}${then}`
          : `${at} ${formWords(first.form)}${then}`,
      );
    case "inside":
      return step(`${stretch} ${insideWords(first.crossing)}`);
    case "along":
      return step(`${stretch} ${alongWords(first.form)}`);
    case "blind":
      return step(`${stretch} the map shows nothing: what is there is not known`);
    case "slope":
      return step(`${at} ${turnWords(first.trend, lengthM, unit)}`);
  }
}

function arrival(leg: LegFigures, chosen: readonly WayItem[], onEnd: string, unit: LengthUnit): Step {
  const { distanceM, to } = leg;
  const last = chosen.findLast((item) => item.is === "line" && !GROUND.has(item.crossing.kind));
  const gapM = last ? distanceM - last.atM : Infinity;
  const words =
    last?.is === "line" && gapM <= FROM_LINE_M
      ? `${lengthInNote(gapM, unit)} after ${again(last.crossing)} you are at ${to}${onEnd}.`
      : `At ${lengthInNote(distanceM, unit)} you are at ${to}${onEnd}.`;
  return { atM: distanceM, toM: distanceM, words: words.charAt(0).toUpperCase() + words.slice(1) };
}

/**
 * ", on the path, on a spur": what an end of the leg lies on; empty when nothing is known of it.
 * @param said a landform that is told of otherwise
 */
function placeWords(
  { crossings, landforms, backstop, distanceM, from, to }: LegFigures,
  atM: number,
  said: LegLandform | null,
): string {
  const near = (other: number): boolean => Math.abs(other - atM) <= AT_END_M;
  const met = crossings.find((c) => LIES_ON.has(c.kind) && near(c.atM));
  // A line that ends at the target is not crossed.
  const line = met ?? (atM > 0 && backstop?.beyondM === 0 && LIES_ON.has(backstop.kind) ? backstop : null);
  const form = landforms.find((l) => l !== said && liesAt(l, atM, distanceM));
  return [...(line ? [onLine(line)] : []), ...(form ? [standingOn(form, atM === 0 ? from : to)] : [])]
    .map((words) => `, ${words}`)
    .join("");
}

const LIES_ON: ReadonlySet<string> = new Set([
  "stream",
  "river",
  "shore",
  "path",
  "road",
  "rail",
  "wall",
  "fence",
  "powerLine",
  "woodEdge",
]);

function onLine(crossing: Pick<Crossing, "kind" | "name">): string {
  const prepositions: Readonly<Record<string, string>> = { powerLine: "under", path: "on", road: "on" };
  return `${prepositions[crossing.kind] ?? "at"} ${again(crossing)}`;
}
