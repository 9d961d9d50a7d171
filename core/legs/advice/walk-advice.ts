/** The advice on legs of a walk, each worked out once. */
import { Fault } from "../../fault.ts";
import { legFrame } from "../../geodesy/leg-frame.ts";
import { prepareGround, type Ground } from "../../terrain/ground.ts";
import type { Bbox } from "../../units/position.ts";
import { escapeSearchBox, walkEscapeOf } from "../aids/escape.ts";
import type { LegFigures } from "../figures.ts";
import type { LegSettings } from "../leg-settings.ts";
import { LONGEST_SEARCHED_M } from "../search-box.ts";
import type { EscapeFigure, LegAdvice, WalkAdvice } from "./advice.ts";
import type { AdviceSettings } from "./advice-settings.ts";
import { adviceBox, escapeFigure, escapeGround, legAdvice } from "./leg-advice.ts";

/** Advice already worked out, by the ground it was worked out on; most recent last. */
const known = new WeakMap<Ground, Map<string, LegAdvice>>();
const KEPT = 200;

/**
 * Advice on one leg. Reads the ground it needs first. A leg that has not changed is not worked out again.
 * A leg whose ground cannot be read gets none, with the reason in its notes.
 * @throws Fault "bad-argument" for settings that cannot be; "cancelled" when the signal is aborted
 */
export async function adviceOn(
  leg: LegFigures,
  ground: Ground | null,
  settings: LegSettings,
  advice: AdviceSettings,
  signal?: AbortSignal,
): Promise<LegAdvice> {
  if (!ground) return legAdvice(leg, null, settings, advice);
  if (leg.distanceM > LONGEST_SEARCHED_M)
    return {
      ...legAdvice(leg, null, settings, advice),
      notes: ["The leg is too long for odds, a way along lines or an escape bearing."],
    };
  let kept = known.get(ground);
  if (!kept) known.set(ground, (kept = new Map()));
  const { startTime: _start, backBy: _back, timeZone: _zone, ...ofLeg } = settings;
  const key = JSON.stringify([leg.fromLonLat, leg.toLonLat, leg.aimsOff, ofLeg, advice]);
  const there = kept.get(key);
  if (there) {
    kept.delete(key);
    kept.set(key, there);
    return { ...there, n: leg.n };
  }
  const unread = await read(ground, adviceBox(leg, settings, advice), signal);
  if (unread !== null) return { ...legAdvice(leg, null, settings, advice), notes: [unread] };
  const worked = legAdvice(leg, ground, settings, advice);
  if (kept.size >= KEPT) kept.delete(kept.keys().next().value as string);
  kept.set(key, worked);
  return worked;
}

/** @returns why the ground cannot be read; null when it was */
async function read(ground: Ground, box: Bbox, signal?: AbortSignal): Promise<string | null> {
  try {
    await prepareGround(ground, box, signal);
    return null;
  } catch (thrown) {
    const fault = Fault.from(thrown);
    if (fault.code === "cancelled" || signal?.aborted)
      throw new Fault("cancelled", "Working out the advice was cancelled.");
    return `The map could not be read around the leg: ${fault.what}`;
  }
}

/** Advice on every leg, and one way out for the whole walk. As `adviceOn`. */
export async function walkAdvice(
  legs: readonly LegFigures[],
  ground: Ground | null,
  settings: LegSettings,
  advice: AdviceSettings,
  signal?: AbortSignal,
): Promise<WalkAdvice> {
  const each: LegAdvice[] = [];
  for (const leg of legs) each.push(await adviceOn(leg, ground, settings, advice, signal));
  return { settings: advice, legs: each, ...(await walkEscape(legs, ground, settings, advice, signal)) };
}

/**
 * One escape bearing for all legs, told as magnetic by the first leg's declination.
 * @throws Fault "cancelled" when the signal is aborted
 */
export async function walkEscape(
  legs: readonly LegFigures[],
  ground: Ground | null,
  { driftDeg, steepDeg, lengthUnit }: LegSettings,
  advice: AdviceSettings,
  signal?: AbortSignal,
): Promise<{ readonly escape: EscapeFigure | null; readonly notes: readonly string[] }> {
  const walked = legs.filter((leg) => leg.bearingTrueDeg !== null);
  const first = walked[0];
  if (!ground || !first) return { escape: null, notes: [] };
  if (walked.some(({ distanceM }) => distanceM > LONGEST_SEARCHED_M))
    return { escape: null, notes: ["A leg is too long for an escape bearing of the whole walk."] };
  const parts: { frame: ReturnType<typeof legFrame>; ground: ReturnType<typeof escapeGround> }[] = [];
  for (const leg of walked) {
    const frame = legFrame(leg.fromLonLat, leg.toLonLat);
    const unread = await read(ground, escapeSearchBox(leg.fromLonLat, leg.toLonLat, advice), signal);
    if (unread !== null) return { escape: null, notes: [unread] };
    parts.push({ frame, ground: escapeGround(frame, ground, advice) });
  }
  const { escape, notes } = walkEscapeOf(parts, {
    escapeReachM: advice.escapeReachM,
    driftDeg,
    steepDeg,
    lengthUnit,
  });
  return { escape: escapeFigure(escape, first.declinationDeg), notes };
}
