/** The figures of a whole walk. */
import { Fault } from "../fault.ts";
import { prepareGround, type Ground } from "../terrain/ground.ts";
import { inverse } from "../geodesy/geodesic.ts";
import type { LonLat } from "../units/position.ts";
import type { DeclinationFigure, LegFigures, WalkFigures } from "./figures.ts";
import { legFigures, type Leg, type LegEnd } from "./leg-figures.ts";
import type { LegSettings } from "./leg-settings.ts";
import { declinationOrReason } from "./norths.ts";
import { elevationAt } from "./profile-height.ts";
import { legSearchBox, LONGEST_SEARCHED_M } from "./search-box.ts";
import { missingFromTotals, totalsOf, withRunningTotals } from "./totals.ts";

/** Figures already worked out, by the ground they were worked out on; most recent last. */
const known = new WeakMap<object, Map<string, LegFigures>>();
const NO_GROUND = {};
/** More than any walk has legs, with room for a long drag. */
const KEPT = 500;

/**
 * Figures of every leg from each end to the next, with running totals. Reads the ground each leg needs first.
 * Legs whose ends, settings and ground are as in an earlier call are not worked out again: moving one point costs two legs.
 * A leg whose ground cannot be read is given without ground, with the reason in its notes.
 * @throws Fault "bad-argument" for a position, day or pace count that is none; "cancelled" when the signal is aborted
 */
export async function walkFigures(
  ends: readonly LegEnd[],
  ground: Ground | null,
  settings: LegSettings,
  signal?: AbortSignal,
): Promise<WalkFigures> {
  const legs: LegFigures[] = [];
  for (const [i, to] of ends.entries()) {
    const from = ends[i - 1];
    if (!from) continue;
    if (signal?.aborted) throw cancelled();
    legs.push(await oneLeg({ n: i, from, to }, ground, settings, signal));
  }
  const { declination, note } = declinationOfWalk(ends, legs, settings.date);
  const totals = totalsOf(legs);
  return {
    declination,
    legs: withRunningTotals(legs),
    totals,
    notes: [...(note === null ? [] : [note]), ...missingFromTotals(legs, totals)],
  };
}

async function oneLeg(
  leg: Leg,
  ground: Ground | null,
  settings: LegSettings,
  signal?: AbortSignal,
): Promise<LegFigures> {
  const { n, from, to } = leg;
  let kept = known.get(ground ?? NO_GROUND);
  if (!kept) known.set(ground ?? NO_GROUND, (kept = new Map()));
  const key = JSON.stringify([from.lonLat, to.lonLat, settings]);
  let figures = kept.get(key);
  if (!figures) {
    const worked = await workOut(leg, ground, settings, signal);
    if (worked.unread) return worked.figures;
    figures = worked.figures;
    if (kept.size >= KEPT) kept.delete(kept.keys().next().value as string);
  } else kept.delete(key);
  kept.set(key, figures);
  return { ...figures, n, from: from.label, to: to.label };
}

/** `unread`: the ground failed, so that the next call must try again. */
async function workOut(
  leg: Leg,
  ground: Ground | null,
  settings: LegSettings,
  signal?: AbortSignal,
): Promise<{ readonly figures: LegFigures; readonly unread: boolean }> {
  const { from, to } = leg;
  const without = (note: string): LegFigures => {
    const figures = legFigures(leg, null, settings);
    return { ...figures, notes: [note, ...figures.notes] };
  };
  if (!ground) return { figures: legFigures(leg, null, settings), unread: false };
  if (inverse(from.lonLat, to.lonLat).distanceM > LONGEST_SEARCHED_M)
    return {
      figures: without(
        `The leg is longer than ${LONGEST_SEARCHED_M / 1000} km, so the map was not searched.`,
      ),
      unread: false,
    };
  try {
    await prepareGround(ground, legSearchBox(from.lonLat, to.lonLat, settings), signal);
  } catch (thrown) {
    const fault = Fault.from(thrown);
    if (fault.code === "cancelled" || signal?.aborted) throw cancelled();
    return { figures: without(`The map could not be read here: ${fault.what}`), unread: true };
  }
  return { figures: legFigures(leg, ground, settings), unread: false };
}

const cancelled = (): Fault => new Fault("cancelled", "Working out the legs was cancelled.");

/** The one declination a walk's table states: at the middle of the walk's box, at the height where its first leg has its middle. */
function declinationOfWalk(
  ends: readonly LegEnd[],
  legs: readonly LegFigures[],
  date: string,
): { readonly declination: DeclinationFigure; readonly note: string | null } {
  const none: DeclinationFigure = {
    deg: null,
    uncertaintyDeg: null,
    annualChangeDeg: null,
    model: null,
    from: "model",
  };
  const first = ends[0];
  if (!first) return { declination: none, note: null };
  const middle = middleOf(ends.map(({ lonLat }) => lonLat));
  const profile = legs[0]?.profile;
  const { declination, note } = declinationOrReason(
    middle,
    profile ? elevationAt(profile, (legs[0] as LegFigures).distanceM / 2) : null,
    date,
  );
  if (!declination) return { declination: none, note };
  const { deg, uncertaintyDeg, annualChangeDeg, model } = declination;
  const furthest = Math.max(
    0,
    ...legs.map((leg) => (leg.declinationDeg === null ? 0 : Math.abs(leg.declinationDeg - deg))),
  );
  // Half the finest graduation of a hand compass.
  const varies =
    furthest > 0.5 ? "Declination differs by more than 0.5° along the walk: use each leg's own." : null;
  return {
    declination: { deg, uncertaintyDeg, annualChangeDeg, model, from: "model" },
    note: note ?? varies,
  };
}

function middleOf(positions: readonly LonLat[]): LonLat {
  const [lon0] = positions[0] as LonLat;
  // Longitudes counted from the first, so that a walk across ±180° has its middle on it.
  const lons = positions.map(([lon]) => ((lon - lon0 + 540) % 360) - 180);
  const lats = positions.map(([, lat]) => lat);
  const lon = lon0 + (Math.min(...lons) + Math.max(...lons)) / 2;
  return [lon > 180 ? lon - 360 : lon < -180 ? lon + 360 : lon, (Math.min(...lats) + Math.max(...lats)) / 2];
}
