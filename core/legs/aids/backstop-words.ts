/** What is said of a backstop: how it will look on the ground, what stops behind it, and why there is none. */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { LineFeature } from "../../map/features.ts";
import type { LengthUnit } from "../../units/format.ts";
import { DEG } from "../../units/angle.ts";
import type { LonLat } from "../../units/position.ts";
import { lineDetail } from "../crossings/crossing-detail.ts";
import { lengthInNote } from "../leg-words.ts";
import type { Backstop } from "../line-aids.ts";
import { isGroundShape, kindAndName } from "../line-kinds.ts";

/** Stops nearly all walkers. */
export const NEARLY_ALL = 0.9;

/** Ground this much steeper or gentler than level is said to climb or fall, degrees. No source. */
const SLOPING_DEG = 3;
/** The ground one comes over before the backstop, metres. */
const BEFORE_M = 40;

/** How a line is met, in words that screen and paper share, by the angle between it and the way, 0–90°. No source. */
export const metHow = (crossingDeg: number): "straight" | "aslant" | "glancing" =>
  crossingDeg >= 60 ? "straight" : crossingDeg >= 30 ? "aslant" : "glancing";

/**
 * How it will look to one who comes to it: kind and name, what the map says of it besides, the angle at which it is met,
 * and the ground before it.
 * @param line null for what the ground itself does
 */
export function backstopLooks(
  { kind, name, beyondM, crossingDeg }: Backstop,
  line: LineFeature | null,
  frame: LegFrame,
  unit: LengthUnit,
  heightAt: ((lonLat: LonLat) => number) | null,
): string {
  const called = kindAndName(kind, name);
  const detail = line && lineDetail(line, unit);
  const met = {
    straight: "lies square across the way",
    aslant: "crosses the way aslant",
    glancing: "is met at a small angle",
  }[metHow(crossingDeg)];
  const where = beyondM === 0 ? "at the target" : `${lengthInNote(beyondM, unit)} beyond the target`;
  const thing = `${called.charAt(0).toUpperCase()}${called.slice(1)}${detail ? ` (${detail})` : ""}`;
  return `${thing}, ${where}: it ${met}${groundBefore(frame, beyondM, heightAt)}.`;
}

/** "; the ground before it falls at 12°" */
function groundBefore(
  frame: LegFrame,
  beyondM: number,
  heightAt: ((lonLat: LonLat) => number) | null,
): string {
  if (!heightAt) return "";
  const endM = frame.lengthM + beyondM;
  const rise = heightAt(frame.toLonLat(endM, 0)) - heightAt(frame.toLonLat(endM - BEFORE_M, 0));
  if (Number.isNaN(rise)) return "";
  const deg = Math.atan(rise / BEFORE_M) / DEG;
  if (Math.abs(deg) < SLOPING_DEG) return "; the ground before it is nearly level";
  return `; the ground before it ${deg > 0 ? "climbs" : "falls"} at ${Math.round(Math.abs(deg))}°`;
}

interface Wanted {
  readonly driftDeg: number;
  readonly backstopReachM: number;
  readonly lengthUnit?: LengthUnit;
}

export function notesOnNone(
  candidates: readonly Backstop[],
  { backstopReachM, lengthUnit = "metric" }: Wanted,
): string[] {
  const most = candidates.reduce<Backstop | null>(
    (a, b) => (a && a.stoppedShare >= b.stoppedShare ? a : b),
    null,
  );
  const nothing = `Nothing within ${lengthInNote(backstopReachM, lengthUnit)} beyond the target stops a walker who goes too far`;
  return [
    most
      ? `${nothing}; the ${kindAndName(most.kind, most.name)} stops only ${Math.round(most.stoppedShare * 100)} %.`
      : `${nothing}.`,
  ];
}

/** What to know about a backstop at the target, and about one that lets many by. */
export function notesOn(
  best: Backstop,
  second: Backstop | null,
  { driftDeg, lengthUnit = "metric" }: Wanted,
): string[] {
  const name = kindAndName(best.kind, best.name);
  const atTarget = best.beyondM === 0;
  const weak = best.stoppedShare < NEARLY_ALL;
  const called = second && kindAndName(second.kind, second.name);
  const beyond = second && lengthInNote(second.beyondM, lengthUnit);
  const behind = !second
    ? ""
    : second.stoppedShare >= NEARLY_ALL
      ? ` Behind it the ${called} stops who goes on, ${beyond} beyond the target.`
      : ` Behind it the ${called}, ${beyond} beyond the target, stops ${Math.round(second.stoppedShare * 100)} %.`;
  const notes: string[] = [];
  if (atTarget)
    notes.push(
      `The target lies on the ${name}, which is itself the stop: on reaching it, know which way to turn.${behind}`,
    );
  if (weak)
    notes.push(
      `The ${name} ${atTarget ? "at" : "beyond"} the target stops only ${Math.round(best.stoppedShare * 100)} % of walkers who drift up to ${driftDeg}°.${atTarget ? "" : behind}`,
    );
  else if (!atTarget && isGroundShape(best.kind) && second)
    notes.push(`The ${name} is easily walked over unnoticed.${behind}`);
  return notes;
}
