/** The figures of a whole walk. */
import { Fault } from "../fault.ts";
import { prepareGround, type Ground } from "../terrain/ground.ts";
import { inverse } from "../geodesy/geodesic.ts";
import { toUtm } from "../geodesy/utm.ts";
import { formatNumber, isMetric, MILE_M } from "../units/format.ts";
import type { LonLat } from "../units/position.ts";
import { declinationFigure } from "./norths/declination-figure.ts";
import { comparisonNotes, declinationNotes, declinationsAt } from "./norths/declinations.ts";
import type { DeclinationFigure, LegFigures, WalkFigures } from "./figures.ts";
import { describeLeg } from "./description/describe-leg.ts";
import { legFigures, type Leg, type LegEnd } from "./leg-figures.ts";
import type { LegSettings } from "./leg-settings.ts";
import { elevationAt } from "./profile-height.ts";
import { legSearchBox, LONGEST_SEARCHED_M } from "./search-box.ts";
import { timetableOf } from "./times/timetable.ts";
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
 * @throws Fault "bad-argument" for a position, day, pace count, clock time or the like that cannot be; "cancelled" when the signal is aborted
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
  const place = middleOf(ends.map(({ lonLat }) => lonLat));
  const { declination, notes } = declinationOfWalk(place, legs, settings);
  const totals = totalsOf(legs);
  const timetable = timetableOf(withRunningTotals(legs), place, settings);
  return {
    ...timetable,
    declination,
    totals,
    notes: [...notes, ...timetable.notes, ...missingFromTotals(legs, totals)],
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
  // The hours are the walk's and change no leg.
  const { startTime: _start, backBy: _back, timeZone: _zone, ...ofLeg } = settings;
  const key = JSON.stringify([from.lonLat, to.lonLat, from.aimOff === true, ofLeg]);
  let figures = kept.get(key);
  if (!figures) {
    const worked = await workOut(leg, ground, settings, signal);
    if (worked.unread) return worked.figures;
    figures = worked.figures;
    if (kept.size >= KEPT) kept.delete(kept.keys().next().value as string);
  } else kept.delete(key);
  kept.set(key, figures);
  if (figures.from === from.label && figures.to === to.label) return { ...figures, n };
  // The description names both ends.
  const renamed = { ...figures, n, from: from.label, to: to.label };
  return { ...renamed, onTheWay: describeLeg(renamed, settings) };
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
  const longest = isMetric(settings.lengthUnit)
    ? `${LONGEST_SEARCHED_M / 1000} km`
    : `${formatNumber(LONGEST_SEARCHED_M / MILE_M, 1)} mi`;
  if (inverse(from.lonLat, to.lonLat).distanceM > LONGEST_SEARCHED_M)
    return {
      figures: without(`The leg is longer than ${longest}, so the map was not searched.`),
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
  place: LonLat | null,
  legs: readonly LegFigures[],
  settings: LegSettings,
): { readonly declination: DeclinationFigure; readonly notes: readonly string[] } {
  if (!place) return { declination: { ...NO_DECLINATION, from: settings.declination.use }, notes: [] };
  const first = legs[0];
  const heightM = first ? elevationAt(first.profile, first.distanceM / 2) : null;
  const { convergenceDeg } = toUtm(place);
  const declinations = declinationsAt(place, heightM, convergenceDeg, settings);
  const { deg } = declinations;
  const furthest = Math.max(
    0,
    ...legs.map((leg) =>
      leg.declinationDeg === null || deg === null ? 0 : Math.abs(leg.declinationDeg - deg),
    ),
  );
  // Half the finest graduation of a hand compass.
  const varies =
    furthest > 0.5 ? ["Declination differs by more than 0.5° along the walk: use each leg's own."] : [];
  return {
    declination: declinationFigure(declinations, convergenceDeg),
    notes: [...declinationNotes(declinations), ...comparisonNotes(declinations), ...varies],
  };
}

const NO_DECLINATION: DeclinationFigure = {
  deg: null,
  uncertaintyDeg: null,
  annualChangeDeg: null,
  model: null,
  from: "model",
  modelDeg: null,
  modelUncertaintyDeg: null,
  printedDeg: null,
  printedAgeYears: null,
  differenceDeg: null,
  beyondModel: false,
  zone: null,
  gridConvergenceDeg: null,
};

/** The middle of the box around the points, where the walk's declination and sun are taken; null without points. */
function middleOf(positions: readonly LonLat[]): LonLat | null {
  const first = positions[0];
  if (!first) return null;
  const [lon0] = first;
  // Longitudes counted from the first, so that a walk across ±180° has its middle on it.
  const lons = positions.map(([lon]) => ((lon - lon0 + 540) % 360) - 180);
  const lats = positions.map(([, lat]) => lat);
  const lon = lon0 + (Math.min(...lons) + Math.max(...lons)) / 2;
  return [lon > 180 ? lon - 360 : lon < -180 ? lon + 360 : lon, (Math.min(...lats) + Math.max(...lats)) / 2];
}
