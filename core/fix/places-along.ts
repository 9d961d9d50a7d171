/**
 * Likely places on lines: a density over the ground, seen along every line, cut into places where it stands out.
 * The chance of a place is its part of the density summed along all the lines: every metre of line counts as much as any
 * other before anything else is known.
 */
import type { LegFrame } from "../geodesy/leg-frame.ts";
import type { LineFeature } from "../map/features.ts";
import { DEG, type TrueBearing, trueBearing } from "../units/angle.ts";
import type { LonLat } from "../units/position.ts";
import {
  type LogDensity,
  type OnLine,
  pointAt,
  type Sampled,
  sampleLines,
  vertexAt,
  verticesBetween,
} from "./line-samples.ts";

export interface LikelyPlace extends OnLine {
  readonly line: LineFeature;
  /** Metres from the line's first position. */
  readonly alongM: number;
  /** Way of the line there, true, in its own order. */
  readonly lineBearing: TrueBearing;
  /** Share of all the chance there is on the lines, 0 to 1. */
  readonly probability: number;
  /** Standard deviation along the line, metres. */
  readonly alongSdM: number;
  /** The stretch that holds 95 % of the chance on this line, from its 2.5 % to its 97.5 % point. */
  readonly from: LonLat;
  readonly to: LonLat;
  /** That stretch, and those of lines which go on from this one and share the place: together 95 % of its chance. */
  readonly stretches: readonly (readonly LonLat[])[];
}

/** A place with the mean of its chance, east and north. */
interface Found extends LikelyPlace {
  readonly mean: readonly [eastM: number, northM: number];
}

/** What lies this far below the best in the logarithm, five standard deviations, has no part in it. */
const NEGLIGIBLE = 12.5;
/** Two tops are two places when the density between them falls to less than half of the lower one. No source. */
const DIP = Math.LN2;
/** Tops on lines of one kind this close are one place: a line may be cut in two at a junction. No source. */
const TOGETHER_M = 15;
/** Less likely places than this are not told. No source. */
const LEAST_PROBABILITY = 0.01;

interface Top {
  readonly sampled: Sampled;
  /** Samples from, to (both included) and the best of them. */
  from: number;
  to: number;
  best: number;
}

/**
 * @param frame along north, near the lines: `legFrame(place, place)`
 * @returns most likely first; empty when the density is nothing on all of them
 */
export function placesAlong(
  lines: readonly LineFeature[],
  frame: LegFrame,
  density: LogDensity,
): LikelyPlace[] {
  const sampled = sampleLines(lines, frame, density);
  const best = sampled.reduce((most, { logs }) => logs.reduce((m, v) => Math.max(m, v), most), -Infinity);
  if (best === -Infinity) return [];
  const chanceOf = ({ logs, stepM }: Sampled, i: number): number => {
    const log = (logs[i] as number) - best;
    // Half a step at either end of the line.
    return log < -NEGLIGIBLE ? 0 : Math.exp(log) * (i === 0 || i === logs.length - 1 ? stepM / 2 : stepM);
  };
  const tops = sampled.flatMap((one) => topsOf(one, best - NEGLIGIBLE));
  const places = tops.map((top) => placeOf(top, density, (i) => chanceOf(top.sampled, i)));
  const whole = places.reduce((sum, { probability }) => sum + probability, 0);
  return together(places)
    .map((place) => ({ ...place, probability: place.probability / whole }))
    .filter(({ probability }) => probability >= LEAST_PROBABILITY)
    .sort((a, b) => b.probability - a.probability);
}

/** Runs of samples above a level, parted where the density dips. */
function topsOf(sampled: Sampled, level: number): Top[] {
  const { logs } = sampled;
  const tops: Top[] = [];
  /** Lowest sample since the last top's best, where the two would be parted. */
  let low = 0;
  let open = false;
  for (let i = 0; i < logs.length; i++) {
    const log = logs[i] as number;
    if (!(log > level)) {
      open = false;
      continue;
    }
    const last = open ? (tops.at(-1) as Top) : undefined;
    open = true;
    if (!last) {
      tops.push({ sampled, from: i, to: i, best: i });
      low = i;
      continue;
    }
    last.to = i;
    if (log < (logs[low] as number)) low = i;
    const [best, dip] = [logs[last.best] as number, logs[low] as number];
    const risen = log - dip > DIP;
    if (low > last.best && risen && best - dip > DIP) {
      // A second top has risen out of the dip.
      last.to = low;
      tops.push({ sampled, from: low + 1, to: i, best: i });
      low = i;
    } else if (log > best) {
      last.best = i;
      low = i;
    }
  }
  return tops;
}

function placeOf(top: Top, density: LogDensity, chance: (i: number) => number): Found {
  const { sampled } = top;
  const { stepM, line, st } = sampled;
  let [sum, first, second] = [0, 0, 0];
  for (let i = top.from; i <= top.to; i++) {
    const c = chance(i);
    sum += c;
    first += c * i * stepM;
    second += c * (i * stepM) ** 2;
  }
  const mean = first / sum;
  const share = (of: number): number => {
    let gone = 0;
    for (let i = top.from; i <= top.to; i++) {
      gone += chance(i);
      if (gone >= of * sum) return i * stepM;
    }
    return top.to * stepM;
  };
  const alongM = summit(sampled, top.best, density);
  const [fromM, toM] = [share(0.025), share(0.975)];
  const middle = pointAt(sampled, mean);
  const ends = [pointAt(sampled, fromM).at, pointAt(sampled, toM).at] as const;
  const vertex = vertexAt(sampled, alongM);
  const [dn, de] = [0, 1].map((k) => (st[2 * vertex + 2 + k] as number) - (st[2 * vertex + k] as number)) as [
    number,
    number,
  ];
  return {
    ...pointAt(sampled, alongM),
    line,
    alongM,
    lineBearing: trueBearing(Math.atan2(de, dn) / DEG),
    probability: sum,
    alongSdM: Math.sqrt(Math.max(0, second / sum - mean * mean)),
    from: ends[0],
    to: ends[1],
    stretches: [[ends[0], ...verticesBetween(sampled, fromM, toM), ends[1]]],
    mean: [middle.eastM, middle.northM],
  };
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** Where the density is greatest between the samples beside the best one, by golden section to a millimetre. */
function summit(sampled: Sampled, best: number, density: LogDensity): number {
  const { stepM, lengths } = sampled;
  let low = Math.max(0, (best - 1) * stepM);
  let high = Math.min(lengths.at(-1) as number, (best + 1) * stepM);
  const at = (alongM: number): number => density(pointAt(sampled, alongM));
  let [a, b] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
  let [fa, fb] = [at(a), at(b)];
  while (high - low > 0.001) {
    if (fa >= fb) {
      [high, b, fb] = [b, a, fa];
      a = high - GOLDEN * (high - low);
      fa = at(a);
    } else {
      [low, a, fa] = [a, b, fb];
      b = low + GOLDEN * (high - low);
      fb = at(b);
    }
  }
  const middle = (low + high) / 2;
  // An end of the line, or a step of the density, may be better than what lies between.
  return at(middle) >= (sampled.logs[best] as number) ? middle : best * stepM;
}

function together(places: readonly Found[]): Found[] {
  const kept: Found[] = [];
  for (const place of places.toSorted((a, b) => b.probability - a.probability)) {
    const twin = kept.findIndex(
      ({ line, eastM, northM }) =>
        line !== place.line &&
        line.kind === place.line.kind &&
        Math.hypot(eastM - place.eastM, northM - place.northM) < TOGETHER_M,
    );
    const other = kept[twin];
    if (other) kept[twin] = joined(other, place);
    else kept.push(place);
  }
  return kept;
}

/** One place of two lines' parts: mean and spread are those of the mixture. */
function joined(one: Found, other: Found): Found {
  const probability = one.probability + other.probability;
  const share = one.probability / probability;
  const mix = (a: number, b: number): number => share * a + (1 - share) * b;
  const apart = Math.hypot(one.mean[0] - other.mean[0], one.mean[1] - other.mean[1]);
  return {
    ...one,
    probability,
    alongSdM: Math.sqrt(mix(one.alongSdM ** 2, other.alongSdM ** 2) + share * (1 - share) * apart ** 2),
    stretches: [...one.stretches, ...other.stretches],
    mean: [mix(one.mean[0], other.mean[0]), mix(one.mean[1], other.mean[1])],
  };
}
