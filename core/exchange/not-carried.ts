/** What of a walk a format does not carry, in plain sentences. */
import type { Walk } from "../walk/walk.ts";
import { losesInXml } from "./clean-text.ts";
import type { ExchangeParts } from "./parts.ts";
import type { ExchangeFormat } from "./write-exchange.ts";

const count = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

/** Sentences about this walk only: what it does not have is not missed. */
export function notCarried(walk: Walk, format: ExchangeFormat, parts: ExchangeParts): string[] {
  const table = format === "csv" || format === "tsv";
  const { points } = walk;
  const told = [
    "The day, the pace, how times are worked out and the declination stay in the walk file: no other format carries them.",
  ];
  const aims = points.filter(({ aimOff }) => aimOff).length;
  if (aims > 0) told.push(`Aiming off is set on ${count(aims, "leg", "legs")} and does not go along.`);
  const own = points.filter(({ instruction }) => instruction !== null).length;
  if (own > 0) told.push(`Your own instructions for ${count(own, "leg", "legs")} do not go along.`);
  const { collection, walk: ofWalk, features } = walk.unknown;
  if (features.length > 0 || Object.keys(collection).length + Object.keys(ofWalk).length > 0)
    told.push("What another program wrote into the walk file does not go along.");
  if (table) {
    told.push("A table holds the points alone: no title, no notes on the walk, no legs.");
    if (parts.track)
      told.push("The ground along the legs does not go along: a table holds the points alone.");
  }
  const named = points.filter(({ name, note }) => name !== null || (parts.notes && note !== "")).length;
  const namesGo = table || parts.points || (format === "gpx" && parts.legs);
  if (!namesGo && named > 0)
    told.push(`Names and notes of ${count(named, "point", "points")} do not go along without the points.`);
  if (!parts.notes && (walk.notes !== "" || points.some(({ note }) => note !== "")))
    told.push("Notes do not go along, as you chose.");
  if (parts.heightsM && !parts.heightsM.some((height) => height !== null))
    told.push("No height is known here: none goes along.");
  else if (parts.heightsM?.some((height) => height === null))
    told.push(
      `Heights of ${count(parts.heightsM.filter((height) => height === null).length, "point is", "points are")} not known and left out.`,
    );
  const texts = [walk.title, walk.notes, ...points.flatMap(({ name, note }) => [name ?? "", note])];
  const lossy = format === "gpx" || format.startsWith("km") ? texts.filter(losesInXml).length : 0;
  if (lossy > 0)
    told.push(
      `${count(lossy, "text holds", "texts hold")} characters that XML has no place for; they are replaced by “\ufffd”.`,
    );
  return told;
}
