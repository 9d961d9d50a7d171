/**
 * What the ground itself does beyond the target: a sustained rise or drop tells walkers they have gone too far where
 * no line does. Looked at along five rays of the drift cone, on the terrain model only: contours alone are too coarse.
 *
 * A rise (or drop) begins where the next 50 m climb (fall) at 15° or more on average, while the last 50 m before the
 * target did so at less than half of that: the change is what one notices. Ground that falls at more than 30° is no
 * backstop but a danger. The figures are our own choice, no source.
 */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { ElevationModel } from "../../terrain/elevation.ts";
import { DEG } from "../../units/angle.ts";
import { driftFan, type Ray } from "./drift-cone.ts";
import type { Backstop } from "../line-aids.ts";
import type { LegSettings } from "../leg-settings.ts";

const OVER_M = 50;
const STEEP = Math.tan(15 * DEG);
const BEFORE = STEEP / 2;
const DANGER = Math.tan(30 * DEG);
const STEP_M = 10;

interface Onset {
  readonly ray: Ray;
  readonly distanceM: number;
  readonly crossingDeg: number;
  readonly dangerous: boolean;
}

/** The rise and the drop beyond a leg's target, each with the share of walkers who meet it; none without a length. */
export function groundBackstops(
  frame: LegFrame,
  elevation: ElevationModel,
  { driftDeg, backstopReachM }: Pick<LegSettings, "driftDeg" | "backstopReachM">,
): Backstop[] {
  if (frame.bearing === null) return [];
  const rays = fewRays(driftDeg);
  return (["rise", "drop"] as const).flatMap((kind) => {
    const met = rays.map((ray) => onsetOn(ray, frame, elevation, kind === "rise" ? 1 : -1, backstopReachM));
    const onsets = met.filter((onset) => onset !== null);
    if (onsets.length === 0 || onsets.some(({ dangerous }) => dangerous)) return [];
    const stoppedShare = onsets.reduce((sum, { ray }) => sum + ray.share, 0);
    const mean = (value: (onset: Onset) => number): number =>
      onsets.reduce((sum, o) => sum + o.ray.share * value(o), 0) / stoppedShare;
    const ahead = onsets.find(({ ray }) => ray.sin === 0);
    return [
      {
        kind,
        name: null,
        beyondM: (ahead ? ahead.distanceM : mean(({ distanceM }) => distanceM)) - frame.lengthM,
        crossingDeg: mean(({ crossingDeg }) => crossingDeg),
        stoppedShare: Math.min(1, stoppedShare),
        stretches:
          onsets.length < 2
            ? []
            : [
                Float64Array.from(
                  onsets.flatMap(({ ray, distanceM }) =>
                    frame.toLonLat(distanceM * ray.cos, distanceM * ray.sin),
                  ),
                ),
              ],
      },
    ];
  });
}

/** Five rays of the fan, their shares made to add up to 1 again. */
function fewRays(driftDeg: number): Ray[] {
  const fan = driftFan(driftDeg);
  const few = [0, 0.25, 0.5, 0.75, 1].map((part) => fan[part * (fan.length - 1)] as Ray);
  const sum = few.reduce((total, { share }) => total + share, 0);
  return few.map((ray) => ({ ...ray, share: ray.share / sum }));
}

function onsetOn(
  ray: Ray,
  frame: LegFrame,
  elevation: ElevationModel,
  sign: 1 | -1,
  reachM: number,
): Onset | null {
  const heightAt = (r: number, right = 0): number =>
    elevation.at(frame.toLonLat(r * ray.cos - right * ray.sin, r * ray.sin + right * ray.cos));
  const slope = (r: number): number => (sign * (heightAt(r + OVER_M) - heightAt(r))) / OVER_M;
  if (!(slope(frame.lengthM - OVER_M) < BEFORE)) return null;
  for (let r = frame.lengthM + STEP_M; r <= frame.lengthM + reachM - OVER_M; r += STEP_M) {
    const here = slope(r);
    // A void ends the search: what lies behind it is not known.
    if (Number.isNaN(here)) return null;
    if (here < STEEP) continue;
    const steps = Array.from({ length: (2 * OVER_M) / STEP_M }, (_, i) => r + i * STEP_M);
    const dangerous = sign < 0 && steps.some((d) => heightAt(d) - heightAt(d + STEP_M) > DANGER * STEP_M);
    const across = (heightAt(r + OVER_M / 2, OVER_M / 2) - heightAt(r + OVER_M / 2, -OVER_M / 2)) / OVER_M;
    return {
      ray,
      distanceM: r,
      dangerous,
      crossingDeg: Number.isFinite(across) ? Math.atan2(here, Math.abs(across)) / DEG : 90,
    };
  }
  return null;
}
