/** The ground along the whole walk on one axis of distance, put together from its legs. Pure. */
import type { Crossing, LegFigures } from "../../core/legs/figures.ts";
import type { LegLandform } from "../../core/terrain/landforms/landforms-along.ts";

export interface RibbonLeg {
  /** Counting from 0. */
  readonly leg: number;
  readonly from: string;
  readonly to: string;
  /** Metres from the start of the walk. */
  readonly startM: number;
  readonly endM: number;
}

export interface RibbonCrossing {
  readonly crossing: Crossing;
  readonly leg: number;
  readonly atM: number;
}

export interface RibbonLandform {
  readonly form: LegLandform;
  readonly leg: number;
  readonly fromM: number;
  readonly toM: number;
  readonly atM: number;
}

export interface WalkProfile {
  readonly lengthM: number;
  readonly legs: readonly RibbonLeg[];
  /** Stretches of known ground: [metres from the start, height in metres] … A gap lies between two of them. */
  readonly stretches: readonly (readonly (readonly [number, number])[])[];
  readonly crossings: readonly RibbonCrossing[];
  readonly landforms: readonly RibbonLandform[];
  readonly lowestM: number | null;
  readonly highestM: number | null;
}

export function walkProfile(legs: readonly LegFigures[]): WalkProfile {
  const ribbonLegs: RibbonLeg[] = [];
  const crossings: RibbonCrossing[] = [];
  const landforms: RibbonLandform[] = [];
  const stretches: [number, number][][] = [];
  let current: [number, number][] = [];
  let [lowest, highest] = [Infinity, -Infinity];
  let startM = 0;

  const close = (): void => {
    if (current.length > 1) stretches.push(current);
    current = [];
  };
  for (const [leg, figures] of legs.entries()) {
    const { distanceM, elevationM } = figures.profile;
    for (const [i, along] of distanceM.entries()) {
      const height = elevationM[i] ?? NaN;
      if (!Number.isFinite(height)) {
        close();
        continue;
      }
      current.push([startM + along, height]);
      lowest = Math.min(lowest, height);
      highest = Math.max(highest, height);
    }
    if (distanceM.length === 0) close();
    for (const crossing of figures.crossings) crossings.push({ crossing, leg, atM: startM + crossing.atM });
    for (const form of figures.landforms)
      landforms.push({
        form,
        leg,
        fromM: startM + form.fromM,
        toM: startM + form.toM,
        atM: startM + (form.way === "along" ? (form.fromM + form.toM) / 2 : form.atM),
      });
    ribbonLegs.push({ leg, from: figures.from, to: figures.to, startM, endM: startM + figures.distanceM });
    startM += figures.distanceM;
  }
  close();
  const known = lowest <= highest;
  return {
    lengthM: startM,
    legs: ribbonLegs,
    stretches,
    crossings,
    landforms,
    lowestM: known ? lowest : null,
    highestM: known ? highest : null,
  };
}

/** The ground between two distances along the walk, in pieces where it is not known throughout. */
export function groundBetween(
  profile: WalkProfile,
  fromM: number,
  toM: number,
): readonly (readonly (readonly [number, number])[])[] {
  return profile.stretches.flatMap((stretch) => {
    const [from, to] = [Math.max(fromM, stretch[0]?.[0] ?? 0), Math.min(toM, stretch.at(-1)?.[0] ?? 0)];
    if (!(to > from)) return [];
    const end = (at: number): readonly [number, number] => [at, heightAt(profile, at) ?? Number.NaN];
    return [[end(from), ...stretch.filter(([at]) => at > from && at < to), end(to)]];
  });
}

/** Height of the ground at a distance along the walk, metres; null where unknown. */
export function heightAt(profile: WalkProfile, atM: number): number | null {
  for (const stretch of profile.stretches) {
    const last = stretch.at(-1);
    const first = stretch[0];
    if (!first || !last || atM < first[0] || atM > last[0]) continue;
    let [low, high] = [0, stretch.length - 1];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if ((stretch[middle] as readonly [number, number])[0] <= atM) low = middle;
      else high = middle;
    }
    const [x0, y0] = stretch[low] as readonly [number, number];
    const [x1, y1] = stretch[high] as readonly [number, number];
    return x1 > x0 ? y0 + ((atM - x0) / (x1 - x0)) * (y1 - y0) : y0;
  }
  return null;
}
