/** The advice on one leg: odds by simulated walkers, what would help most, a way along lines, and the way out. */
import { legFrame, type LegFrame } from "../../geodesy/leg-frame.ts";
import type { LineFeature } from "../../map/features.ts";
import type { Kind } from "../../map/kinds.ts";
import type { Ground } from "../../terrain/ground.ts";
import { trueToMagnetic } from "../../units/angle.ts";
import { bboxOf, growBbox, unionBbox, type Bbox } from "../../units/position.ts";
import { attackBox } from "../aids/attack-points.ts";
import { backstopOf } from "../aids/backstop.ts";
import { type Escape, escapeOf, escapeSearchBox } from "../aids/escape.ts";
import { ESCAPE_AREA_KINDS, ESCAPE_LINE_KINDS } from "../aids/escape-lines.ts";
import type { EscapeGround } from "../aids/escape-problem.ts";
import { frameAreas } from "../aids/framed-area.ts";
import { type FramedLine, frameLines } from "../aids/framed-line.ts";
import { handrailRouteOf, routeBox } from "../aids/handrail-route.ts";
import { climbThresholdM } from "../climb-threshold.ts";
import type { LegFigures } from "../figures.ts";
import type { LegSettings } from "../leg-settings.ts";
import { LEG_LINE_KINDS } from "../line-kinds.ts";
import { cloud } from "../odds/cloud.ts";
import { type AttackPointPlan, type LegPlan, type OddsSettings } from "../odds/odds-of.ts";
import { type Worth, worthOfAids } from "../odds/worth-of-aids.ts";
import { legLinesBox } from "../search-box.ts";
import { type TimeMethod, walkingTimeS, withFactors } from "../../travel/walking-time.ts";
import type { EscapeFigure, LegAdvice, RouteAdvice } from "./advice.ts";
import type { AdviceSettings } from "./advice-settings.ts";
import { offeredOn, oddsSettingsOf, planOf } from "./leg-plan.ts";
import { proposalsFrom, type Via } from "./proposals.ts";
import { routeOdds } from "./route-odds.ts";
import { splitPlaces } from "./split-places.ts";

/** What advice on a leg has to read of the map. */
export const adviceBox = (
  leg: Pick<LegFigures, "fromLonLat" | "toLonLat">,
  settings: LegSettings,
  advice: AdviceSettings,
): Bbox => {
  const { fromLonLat: from, toLonLat: to } = leg;
  return [
    unionBbox(legLinesBox(from, to, settings), attackBox(to)),
    escapeSearchBox(from, to, advice),
    routeBox(legFrame(from, to)),
  ].reduce(unionBbox);
};

const NO_ADVICE = { odds: null, cloud: [], worth: [], better: [], flagged: false, route: null, escape: null };

/**
 * Advice on a leg with its figures. Synchronous: the ground of `adviceBox` must have been prepared.
 * @param ground null without a map: then there is none
 * @throws Fault "bad-argument" for settings that cannot be
 */
export function legAdvice(
  leg: LegFigures,
  ground: Ground | null,
  settings: LegSettings,
  advice: AdviceSettings,
): LegAdvice {
  const { n, fromLonLat: from, toLonLat: to } = leg;
  const none = (notes: readonly string[]): LegAdvice => ({ n, ...NO_ADVICE, routeReason: null, notes });
  if (!ground) return none(["There is no map here: odds, a way along lines and an escape bearing need one."]);
  if (leg.bearingTrueDeg === null) return none([]);
  const frame = legFrame(from, to);
  const { map } = ground;
  const lines = map.lines(unionBbox(legLinesBox(from, to, settings), attackBox(to)), LEG_LINE_KINDS);
  const framed = frameLines(frame, lines);
  const oddsSettings = oddsSettingsOf(advice, settings);
  const draw = { walkers: advice.walkers, seed: advice.seed };
  const ways = viasOf(leg, frame, framed, ground, settings);
  const judged = (plan: LegPlan): Worth | null =>
    worthOfAids(frame, framed, plan, offeredOn(leg, ways), oddsSettings, draw);
  const plan = planOf(leg, advice);
  const asShown = judged(plan);
  const without = asShown?.better.find(({ change }) => change === "withoutHandrail");
  // A stretch too short or too far aside to be worth leaving the bearing for: nobody who knows it follows it.
  const worth = without ? judged({ ...plan, handrails: [] }) : asShown;
  const found = routeOf(leg, frame, ground, settings, advice, oddsSettings);
  const out = escapeOf(frame, escapeGround(frame, ground, advice), {
    escapeReachM: advice.escapeReachM,
    driftDeg: settings.driftDeg,
    steepDeg: settings.steepDeg,
    lengthUnit: settings.lengthUnit,
  });
  return {
    n,
    odds: worth && {
      find: worth.run.find,
      stopped: worth.run.stopped,
      missed: worth.run.missed,
      ...draw,
    },
    cloud: worth ? cloud(frame, worth.run) : [],
    worth: worth?.changes ?? [],
    better: worth ? proposalsFrom(worth.better, ways, leg) : [],
    flagged: worth !== null && worth.run.find < advice.flagBelow,
    route: found.route,
    routeReason: found.reason,
    escape: escapeFigure(out.escape, leg.declinationDeg),
    notes: [
      ...(asShown && without
        ? [
            `On the bearing alone ${percent(without.odds.find)} % find the target, with the handrails followed ${percent(asShown.run.find)} %: here they are for checking, not for following.`,
          ]
        : []),
      ...out.notes,
    ],
  };
}

const percent = (share: number): number => Math.round(100 * share);

export const escapeFigure = (escape: Escape | null, declinationDeg: number | null): EscapeFigure | null =>
  escape && {
    ...escape,
    bearingMagneticDeg:
      declinationDeg === null ? null : trueToMagnetic(escape.bearingTrueDeg, declinationDeg),
  };

export function escapeGround(
  frame: LegFrame,
  { map, elevation }: Ground,
  advice: Pick<AdviceSettings, "escapeReachM">,
): EscapeGround {
  const box = escapeSearchBox(frame.from, frame.to, advice);
  return {
    lines: frameLines(frame, map.lines(box, ESCAPE_LINE_KINDS)),
    areas: frameAreas(frame, map.areas(box, ESCAPE_AREA_KINDS)),
    elevation,
    roles: map.info.roles,
    isPartlyBlind: map.blind(box).length > 0,
  };
}

const PLACES: ReadonlySet<Kind> = new Set<Kind>(["peak", "spotHeight", "building"]);
const PLACE_AREAS: ReadonlySet<Kind> = new Set<Kind>(["building", "water"]);

/** Attack points, then places to cut the leg at, each with what stops those who walk past it. */
function viasOf(
  leg: LegFigures,
  frame: LegFrame,
  lines: readonly FramedLine[],
  { map }: Ground,
  settings: LegSettings,
): Via[] {
  const box = growBbox(bboxOf([frame.from, frame.to]) as Bbox, 0.15 * frame.lengthM);
  const prepared = map.isPrepared(box);
  const cuts = splitPlaces(frame, {
    frame,
    lines,
    points: prepared ? map.points(box, PLACES) : [],
    areas: prepared ? map.areas(box, PLACE_AREAS) : [],
  });
  const stopAt = (to: AttackPointPlan["lonLat"]) => {
    const way = legFrame(frame.from, to);
    return backstopOf(
      way,
      frameLines(
        way,
        lines.map(({ line }) => line),
      ),
      settings,
    ).backstop;
  };
  return [
    ...leg.attackPoints.map(({ lonLat, words }) => ({
      change: "attackPoint" as const,
      lonLat,
      words,
      backstop: stopAt(lonLat),
    })),
    ...cuts.map(({ lonLat, words }) => ({
      change: "split" as const,
      lonLat,
      words,
      backstop: stopAt(lonLat),
    })),
  ];
}

/** Rules of walking time that need no profile; of a way along lines there is none, and the others give way to Naismith. */
const HEIGHTS_ALONE: ReadonlySet<TimeMethod> = new Set<TimeMethod>(["naismith", "naismith1892", "din33466"]);

function routeOf(
  leg: LegFigures,
  frame: LegFrame,
  { map, elevation }: Ground,
  settings: LegSettings,
  advice: AdviceSettings,
  oddsSettings: OddsSettings,
): { readonly route: RouteAdvice | null; readonly reason: string | null } {
  const lines: readonly LineFeature[] = map.lines(routeBox(frame), LEG_LINE_KINDS);
  const { driftDeg, backstopReachM, lengthUnit } = settings;
  const { route, reason } = handrailRouteOf(
    {
      frame,
      lines: frameLines(frame, lines),
      handrails: leg.handrails,
      heightAt: elevation ? elevation.at.bind(elevation) : null,
    },
    {
      driftDeg,
      backstopReachM,
      lengthUnit,
      climbThresholdM: climbThresholdM(settings, map.info.interval),
    },
  );
  if (!route) return { route: null, reason };
  const { distanceM, climbM, descentM } = route;
  const bare =
    climbM === null || descentM === null
      ? null
      : walkingTimeS(HEIGHTS_ALONE.has(settings.timeMethod) ? settings.timeMethod : "naismith", {
          distanceM,
          climbM,
          descentM,
          profile: leg.profile,
        });
  return {
    route: {
      ...route,
      odds: routeOdds(route.parts, lines, advice.steering, oddsSettings, settings, {
        walkers: advice.walkers,
        seed: advice.seed,
      }),
      timeS: bare === null ? null : withFactors(bare, settings.timeFactors),
    },
    reason: null,
  };
}
