/** What aiming off to one side of a target on a line would come to. */
import { DEG } from "../../units/angle.ts";
import type { Kind } from "../../map/kinds.ts";
import { kindAndName, stopsSurely } from "../line-kinds.ts";
import { driftFan } from "./drift-cone.ts";
import { alongAt, castRay, isNear, lengthOf, nearestPlace, pointAlong, type St } from "./framed-geometry.ts";
import type { FramedLine } from "./framed-line.ts";

/** One who reaches the line so far to the chosen side still knows the side: about what a drawn point can mean. */
export const MARGIN_M = 10;
/** Aimed off by more one walks another leg. */
const MOST_DEG = 30;
/** Sent so many times as far along a line as along one square to the leg, one walks another leg, too. No source. */
const MOST_ALONG = 1.5;
/** Rays that stand for the walkers. */
const EVERY = 9;
/** Share of walkers who may meet a thing that bars the way. */
const SPARED = 0.05;
/** So near a cliff one is not sent along a line, metres. */
const BESIDE_M = 20;
const TOO_STEEP = Math.tan(35 * DEG);

const BARS: ReadonlySet<Kind> = new Set<Kind>(["cliff", "restricted", "shore"]);
const HINDERS: ReadonlySet<Kind> = new Set<Kind>(["river", "rail"]);

export interface Side {
  readonly side: "left" | "right";
  /** Null when `bar` says why it cannot be done on this side. */
  readonly offsetDeg: number | null;
  readonly bar: string | null;
  /** Where one who keeps the bearing meets the line, and how far it is from there to the target along it. */
  readonly meet: St;
  readonly meanAlongM: number;
  /** The most that one at the outer edge of the drift cone has to walk along the line. */
  readonly alongM: number;
  /** Share of walkers who reach the line on this side. */
  readonly share: number;
  /** Rise of the way along the line to the target, metres; null when not known. */
  readonly riseM: number | null;
  /** What hinders some on the way. */
  readonly hinders: string | null;
  /** What stops one who goes past the target along the line. */
  readonly stop: { readonly called: string; readonly beyondM: number } | null;
  /** Lower is better. */
  readonly cost: number;
}

export interface SideInput {
  readonly lengthM: number;
  readonly driftDeg: number;
  /** Offsets are multiples of this, degrees. */
  readonly stepDeg: number;
  readonly reachM: number;
  /** The line from the target to this side and to the other. */
  readonly chain: FramedLine;
  readonly other: FramedLine;
  /** All lines but those of the chains. */
  readonly others: readonly FramedLine[];
  readonly heightAt: ((at: St) => number) | null;
}

const START: St = { s: 0, t: 0 };

/** The least offset, in steps, at which the whole drift cone meets the line on the chosen side, and what that comes to. */
export function aimedAt(side: "left" | "right", input: SideInput): Side {
  const { lengthM, driftDeg, stepDeg, reachM, chain, other, others, heightAt } = input;
  const sign = side === "left" ? -1 : 1;
  const called = kindAndName(chain.line.kind, chain.line.name);
  const barred = (bar: string): Side => ({
    side,
    offsetDeg: null,
    bar,
    meet: START,
    meanAlongM: 0,
    alongM: 0,
    share: 0,
    riseM: null,
    hinders: null,
    stop: null,
    cost: Infinity,
  });
  /** Metres along the chain where a walker at this angle to the leg meets the line; null when not on this side. */
  const metAt = (angleDeg: number): { alongM: number; distanceM: number } | null => {
    const [cos, sin] = [Math.cos(angleDeg * DEG), Math.sin(sign * angleDeg * DEG)];
    const here = castRay(chain, START, cos, sin, lengthM / 2, lengthM + reachM);
    const there = castRay(other, START, cos, sin, lengthM / 2, lengthM + reachM);
    if (!here || (there && there.distanceM < here.distanceM)) return null;
    return { alongM: alongAt(chain, here.place), distanceM: here.distanceM };
  };
  const least = Math.ceil(driftDeg / stepDeg - 1e-9) * stepDeg;
  for (let offsetDeg = least; offsetDeg <= MOST_DEG; offsetDeg += stepDeg) {
    const inner = metAt(offsetDeg - driftDeg);
    if (!inner || inner.alongM < MARGIN_M) continue;
    const outer = metAt(offsetDeg + driftDeg);
    if (!outer) return barred(`on the ${side} the ${called} does not reach far enough across the way`);
    const fan = driftFan(driftDeg).filter((_, i) => i % EVERY === 0);
    const whole = fan.reduce((sum, { share }) => sum + share, 0);
    const rays = fan.flatMap((ray) => {
      const met = metAt(offsetDeg + ray.angleDeg);
      return met ? [{ ...met, angleDeg: offsetDeg + ray.angleDeg, share: ray.share / whole }] : [];
    });
    const share = rays.reduce((sum, ray) => sum + ray.share, 0);
    if (rays.length < fan.length)
      return barred(`on the ${side} the ${called} does not run on without a break`);
    const alongM = Math.max(...rays.map((ray) => ray.alongM));
    if (alongM > MOST_ALONG * lengthM * Math.tan((offsetDeg + driftDeg) * DEG))
      return barred(
        `on the ${side} the ${called} slants so much that some would have too far to walk along it`,
      );
    const hindrance = inTheWay(rays, sign, others, chain, alongM);
    if (hindrance?.bars)
      return barred(
        hindrance.onWay
          ? `on the ${side} the ${hindrance.called} lies in the way`
          : `on the ${side} the ${called} runs by the ${hindrance.called}`,
      );
    const mean = metAt(offsetDeg) as { alongM: number; distanceM: number };
    const meet = pointAlong(chain, mean.alongM);
    const ground = groundOn(meet, chain, heightAt);
    if (ground.steep) return barred(`on the ${side} the way leads over ground steeper than 35°`);
    const stop = stopBeyond(other, others);
    return {
      side,
      offsetDeg,
      bar: null,
      meet,
      meanAlongM: mean.alongM,
      alongM,
      share,
      riseM: ground.riseM,
      hinders: hindrance?.called ?? null,
      stop,
      cost:
        alongM +
        (hindrance ? 400 * hindrance.share : 0) +
        // Uphill costs eight times its height on the flat, by Naismith's rule; downhill nothing.
        8 * Math.max(0, ground.riseM ?? 0) -
        (stop ? 30 : 0),
    };
  }
  return barred(`on the ${side} the ${called} ends too soon, or turns away from the way`);
}

interface Met {
  readonly angleDeg: number;
  readonly distanceM: number;
  readonly share: number;
}

/** What lies between the walkers and the line, or beside the line where they walk along it. */
function inTheWay(
  rays: readonly Met[],
  sign: number,
  others: readonly FramedLine[],
  chain: FramedLine,
  alongM: number,
): {
  readonly called: string;
  readonly share: number;
  readonly bars: boolean;
  readonly onWay: boolean;
} | null {
  let worst: { called: string; share: number; bars: boolean; onWay: boolean } | null = null;
  for (const line of others) {
    const { kind, name } = line.line;
    const bars = BARS.has(kind);
    if (!bars && !HINDERS.has(kind)) continue;
    let share = 0;
    for (const ray of rays) {
      const [cos, sin] = [Math.cos(ray.angleDeg * DEG), Math.sin(sign * ray.angleDeg * DEG)];
      if (castRay(line, START, cos, sin, 1, ray.distanceM - 1)) share += ray.share;
    }
    if (bars && share > SPARED) return { called: kindAndName(kind, name), share, bars, onWay: true };
    if (kind === "cliff")
      for (let m = 0; m <= alongM; m += 10) {
        const at = pointAlong(chain, m);
        if (isNear(line, at, BESIDE_M) && nearestPlace(line, at).offM <= BESIDE_M)
          return { called: kindAndName(kind, name), share: 1, bars: true, onWay: false };
      }
    if (share > SPARED && (!worst || share > worst.share))
      worst = { called: kindAndName(kind, name), share, bars, onWay: true };
  }
  return worst;
}

function groundOn(
  meet: St,
  chain: FramedLine,
  heightAt: ((at: St) => number) | null,
): { readonly riseM: number | null; readonly steep: boolean } {
  if (!heightAt) return { riseM: null, steep: false };
  const farM = Math.hypot(meet.s, meet.t);
  const steps = Math.max(1, Math.round(farM / 20));
  let steep = false;
  let before = heightAt(START);
  for (let i = 1; i <= steps; i++) {
    const here = heightAt({ s: (meet.s * i) / steps, t: (meet.t * i) / steps });
    if (Math.abs(here - before) > (TOO_STEEP * farM) / steps) steep = true;
    before = here;
  }
  const riseM = heightAt(pointAlong(chain, 0)) - before;
  return { riseM: Number.isNaN(riseM) ? null : riseM, steep };
}

/** The first line that meets the other side of the line beyond the target, for one who walks past it. */
function stopBeyond(
  other: FramedLine,
  others: readonly FramedLine[],
): { readonly called: string; readonly beyondM: number } | null {
  const farM = Math.min(300, lengthOf(other));
  for (let m = 40; m <= farM; m += 10) {
    const at = pointAlong(other, m);
    const line = others.find(
      (l) => stopsSurely(l.line.kind) > 0.5 && isNear(l, at, 6) && nearestPlace(l, at).offM <= 6,
    );
    if (line) return { called: kindAndName(line.line.kind, line.line.name), beyondM: m };
  }
  return null;
}
