/** Questions about what a leg offers: a line to follow, a bearing turned aside on purpose. */
import { inverse } from "../../geodesy/geodesic.ts";
import { legFrame } from "../../geodesy/leg-frame.ts";
import { crossingsOf } from "../../map/crossings.ts";
import { handrailWords } from "../../legs/leg-words.ts";
import { isGroundShape, kindAndName } from "../../legs/line-kinds.ts";
import type { Kind } from "../../map/kinds.ts";
import type { LegFigures } from "../../legs/figures.ts";
import { normalise360 } from "../../units/angle.ts";
import { formatBearing } from "../../units/format.ts";
import type { LonLat } from "../../units/position.ts";
import { figureAnswer, wordAnswer } from "./drill.ts";
import { type Asker, type DrillGround, marksOf } from "./drill-ground.ts";

const three = (degrees: number): string => formatBearing(degrees, { threeFigures: true });

const sheetMm = (from: LonLat, to: LonLat, { wish }: DrillGround): number =>
  (inverse(from, to).distanceM * 1000) / wish.scale;
const isBetween = (value: number, low: number, high: number): boolean => value >= low && value <= high;

/** Runs beside nearly all of the leg … */
const CLEARLY = 0.7;
/** … and no other line beside more than a little of it, so that there is one answer. No source for either. */
const HARDLY = 0.3;

export const askHandrail: Asker = async (ground, n) => {
  const [from, to] = [await onSomeLine(ground), await onSomeLine(ground)];
  if (!from || !to || !isBetween(sheetMm(from, to, ground), 15, 60)) return null;
  const leg = await ground.leg(from, to);
  if (!leg) return null;
  const [best, next] = leg.handrails;
  if (!best || best.coverage < CLEARLY || (next && next.coverage > HARDLY) || isGroundShape(best.kind))
    return null;
  if (isDangerous(leg) || changesSides(leg, best.kind)) return null;
  const [a, b] = marksOf(n, from, to).map(({ label }) => label);
  return {
    ask: `You walk from ${a} to ${b}. Which line on the ground can you follow, and on which side of you is it?`,
    marks: marksOf(n, from, to),
    joined: true,
    answer: wordAnswer(
      `The ${kindAndName(best.kind, best.name)}, on the ${best.side}`,
      "The line and the side must both be right.",
    ),
    working: [
      `Look for a line that runs with the leg and close to it: ${handrailWords(best, "metric", leg.distanceM)}.`,
      "No other line runs beside more than a little of it.",
    ],
  };
};

/** Whether a line of the kind is crossed well away from both ends: then it is on one side first, on the other after. */
const changesSides = ({ crossings, distanceM }: LegFigures, kind: Kind): boolean =>
  crossings.some((met) => met.kind === kind && isBetween(met.atM / distanceM, 0.1, 0.9));

/** Nobody is set a leg through danger, not on paper either: it teaches the wrong thing. */
const isDangerous = (leg: LegFigures): boolean =>
  leg.blind.length > 0 || leg.hazards.some(({ side, fromM }) => side === "on" && fromM < leg.distanceM);

export const askAimOff: Asker = async (ground, n) => {
  const target = await onSomeLine(ground);
  const start = target && ground.place();
  if (!target || !start) return null;
  if (!isBetween(sheetMm(start, target, ground), 15, 60)) return null;
  const leg = await ground.leg(start, target);
  if (!leg) return null;
  const { aimOff, bearingGridDeg } = leg;
  if (!aimOff || bearingGridDeg === null || isDangerous(leg)) return null;
  const turned = aimOff.side === "left" ? -aimOff.offsetDeg : aimOff.offsetDeg;
  const given = Math.round(bearingGridDeg);
  const value = normalise360(given + turned);
  const other = aimOff.side === "left" ? "right" : "left";
  const [a, b] = marksOf(n, start, target).map(({ label }) => label);
  const line = kindAndName(aimOff.line.kind, aimOff.line.name);
  return {
    ask: `From ${a} the bearing to ${b}, which lies on the ${line}, is ${three(given)} grid. You aim off ${aimOff.offsetDeg}° to the ${aimOff.side}. On which grid bearing do you walk, and which way do you turn at the ${line}?`,
    marks: marksOf(n, start, target),
    joined: false,
    answer: figureAnswer(
      `${three(value)} grid, then turn ${aimOff.turn}`,
      value,
      0.5,
      "The bearing and the turn must both be right.",
    ),
    working: [
      `Aiming off to the ${aimOff.side} ${aimOff.side === "left" ? "takes" : "adds"} ${aimOff.offsetDeg}° ${aimOff.side === "left" ? "off" : "to"} the bearing: ${given}° ${aimOff.side === "left" ? "−" : "+"} ${aimOff.offsetDeg}° = ${value}°.`,
      `Whoever reaches the ${line} to the ${aimOff.side} of ${b} finds it by turning ${aimOff.turn}. Without aiming off one would not know whether it lies ${aimOff.side} or ${other}.`,
    ],
  };
};

/** A place on a line of the map, by chance: where a line thrown over the sheet crosses one. */
async function onSomeLine(ground: DrillGround): Promise<LonLat | null> {
  const [from, to] = [ground.place(), ground.place()];
  if (!from || !to) return null;
  const frame = legFrame(from, to);
  const met = ground.chance.shuffled(crossingsOf(frame, await ground.lines()))[0];
  const at = met && frame.toLonLat(met.atM, 0);
  return at && ground.isOnSheet(at) ? at : null;
}
