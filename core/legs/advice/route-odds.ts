/** The odds of a way along lines: each straight part by walkers of its own, lines in between followed. */
import { inverse } from "../../geodesy/geodesic.ts";
import { legFrame } from "../../geodesy/leg-frame.ts";
import type { LineFeature } from "../../map/features.ts";
import type { LonLat } from "../../units/position.ts";
import { backstopOf } from "../aids/backstop.ts";
import { frameLines } from "../aids/framed-line.ts";
import type { RoutePart } from "../aids/handrail-route.ts";
import type { LegSettings } from "../leg-settings.ts";
import { followedSurely } from "../line-kinds.ts";
import { oddsOf, type OddsSettings } from "../odds/odds-of.ts";
import type { Odds } from "../odds/simulate.ts";

/** Straight parts shorter than this are a few steps, metres. */
const STEPS_M = 15;

/**
 * To a line that is to be followed it is enough to come to it; the last part has to find the target. Who loses a line or
 * walks past one is counted as having missed. Parts are taken to succeed or fail each for itself.
 * @param lines those of the whole way
 */
export function routeOdds(
  parts: readonly RoutePart[],
  lines: readonly LineFeature[],
  steering: "marks" | "unaided",
  settings: OddsSettings,
  search: Pick<LegSettings, "driftDeg" | "backstopReachM">,
  draw: { readonly walkers: number; readonly seed: number },
): Odds | null {
  let arrive = 1;
  let last: Odds | null = null;
  for (const [i, part] of parts.entries()) {
    const isLast = i === parts.length - 1;
    if (part.how === "follow") {
      // A sure line is not lost; of the surest, paths and roads, next to nobody does.
      arrive *= part.kind === null ? 1 : 0.5 + 0.5 * followedSurely(part.kind);
      if (isLast) last = { find: 1, stopped: 0, missed: 0, ...draw };
      continue;
    }
    const { coords } = part;
    const from: LonLat = [coords[0] as number, coords[1] as number];
    const to: LonLat = [coords.at(-2) as number, coords.at(-1) as number];
    const fewSteps = inverse(from, to).distanceM < STEPS_M;
    const frame = legFrame(from, to);
    const framed = frameLines(frame, lines);
    const run = fewSteps
      ? { find: 1, stopped: 0, missed: 0, ...draw }
      : oddsOf(
          frame,
          framed,
          {
            steering,
            handrails: [],
            backstop: backstopOf(frame, framed, search).backstop,
            aimOff: null,
            attackPoint: null,
          },
          settings,
          draw,
        );
    if (!run) return null;
    if (isLast) last = run;
    else arrive *= run.find + run.stopped;
  }
  if (!last) return null;
  const find = arrive * last.find;
  const stopped = arrive * last.stopped;
  return { find, stopped, missed: Math.max(0, 1 - find - stopped), ...draw };
}
