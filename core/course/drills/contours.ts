/** Questions about the shape of the ground. */
import { legFrame } from "../../geodesy/leg-frame.ts";
import { direct, inverse } from "../../geodesy/geodesic.ts";
import { crossingsOf, type LineCrossing } from "../../map/crossings.ts";
import type { LineFeature } from "../../map/features.ts";
import type { Kind } from "../../map/kinds.ts";
import { kindWord } from "../../legs/line-kinds.ts";
import { type Landform, type LandformKind, MEANING } from "../../terrain/landforms/landform.ts";
import { trueBearing } from "../../units/angle.ts";
import { formatHeight, formatLength, formatNumber } from "../../units/format.ts";
import { bboxOf, growBbox, type Bbox, type LonLat } from "../../units/position.ts";
import { figureAnswer, wordAnswer } from "./drill.ts";
import { type Asker, type DrillGround, marksOf } from "./drill-ground.ts";

const CONTOURS: ReadonlySet<Kind> = new Set<Kind>(["contour"]);
const FOOT_M = 0.3048;
/** A contour met at less is run along rather than crossed: two people would count it differently, degrees. No source. */
const CLEAN_DEG = 20;
/** An end nearer to a contour than this on the sheet could be counted on either side of it, millimetres. */
const CLEAR_MM = 0.8;

function intervalM({ ground }: DrillGround): number | null {
  const { interval } = ground.map.info;
  return interval && interval.value * (interval.unit === "ft" ? FOOT_M : 1);
}

/** Whether each crossing leads up, in order; null where the contours alone do not tell. */
export function waysUp(levelsM: readonly number[]): boolean[] | null {
  const first = levelsM.findIndex((level, i) => i > 0 && level !== levelsM[0]);
  if (first < 0) return null;
  const ups: boolean[] = [];
  // Between two crossings of one level the ground bulges and comes back: the way turns over.
  let up =
    first % 2 === 1
      ? (levelsM[first] as number) > (levelsM[0] as number)
      : (levelsM[first] as number) < (levelsM[0] as number);
  for (let i = 0; i < levelsM.length; i++) {
    if (i > 0 && levelsM[i] === levelsM[i - 1]) up = !up;
    ups.push(up);
  }
  return ups;
}

export const askClimb: Asker = async (ground, n) => {
  const interval = intervalM(ground);
  const pair = interval === null ? null : ground.pair(25, 80);
  const [least, most] = ground.level.contours;
  if (!pair || interval === null) return null;
  const box = growBbox(bboxOf(pair) as Bbox, 20);
  await ground.prepare(box);
  const frame = legFrame(...pair);
  const { map } = ground.ground;
  if (map.blind(box).length > 0) return null;
  const lines = map.lines(box, CONTOURS);
  const met = crossingsOf(frame, lines).filter(({ line }) => Number.isFinite(line.elevationM));
  if (met.length < least || met.length > most || !isClean(met, frame.lengthM, ground)) return null;
  if (pair.some((end) => isByAny(end, lines, ground))) return null;
  const levels = met.map(({ line }) => line.elevationM);
  const regular = levels.every(
    (level, i) => i === 0 || Math.abs(level - (levels[i - 1] as number)) < interval * 1.01,
  );
  const ups = regular ? waysUp(levels) : null;
  if (!ups || !agree(ups, met, (s) => frame.toLonLat(s, 0), ground)) return null;
  const [up, down] = [ups.filter((is) => is).length, ups.filter((is) => !is).length];
  const value = up * interval;
  const [a, b] = marksOf(n, ...pair).map(({ label }) => label);
  const unit = map.info.interval?.unit === "ft" ? "imperial" : "metric";
  return {
    ask: `Count the contours from ${a} to ${b}. How much do you climb in all, and how much do you go down?`,
    marks: marksOf(n, ...pair),
    joined: true,
    answer: figureAnswer(
      `${formatHeight(value, unit)} up, ${formatHeight(down * interval, unit)} down`,
      value,
      interval,
      `Right within one interval, ${formatHeight(interval, unit)}, each.`,
    ),
    working: [
      `The contour interval is ${formatHeight(interval, unit)}.`,
      `In order the line meets ${levels.map((level) => formatHeight(level, unit)).join(", ")}.`,
      `${up} of them are met going up and ${down} going down: ${up} × ${formatHeight(interval, unit)} up, ${down} × ${formatHeight(interval, unit)} down.`,
    ],
  };
};

/** Whether a line passes by a place, on whatever side: a mark there could be read as beyond it. */
function isByAny(at: LonLat, lines: readonly LineFeature[], { wish }: DrillGround): boolean {
  const clearM = (CLEAR_MM * wish.scale) / 1000;
  return [0, 45, 90, 135].some((deg) => {
    const [from, to] = [deg, deg + 180].map((way) => direct(at, trueBearing(way), clearM));
    return crossingsOf(legFrame(from as LonLat, to as LonLat), lines).length > 0;
  });
}

function isClean(met: readonly LineCrossing[], lengthM: number, { wish }: DrillGround): boolean {
  const clearM = (CLEAR_MM * wish.scale) / 1000;
  const ends = met.every(({ atM }) => atM > clearM && atM < lengthM - clearM);
  const apart = met.every(({ atM }, i) => i === 0 || atM - (met[i - 1] as LineCrossing).atM > clearM / 2);
  return ends && apart && met.every(({ crossingDeg }) => crossingDeg >= CLEAN_DEG);
}

/** Whether the terrain rises where the contours say so; without terrain they are all there is. */
function agree(
  ups: readonly boolean[],
  met: readonly LineCrossing[],
  onLeg: (s: number) => LonLat,
  { ground }: DrillGround,
): boolean {
  const { elevation } = ground;
  if (!elevation) return true;
  return met.every(({ atM }, i) => {
    const rise = elevation.at(onLeg(atM + 5)) - elevation.at(onLeg(atM - 5));
    return rise > 0 === ups[i];
  });
}

/** Kinds that beginners and books draw the line between differently: both words count. */
const LIKE: Readonly<Partial<Record<LandformKind, LandformKind>>> = {
  spur: "ridge",
  ridge: "spur",
  draw: "valley",
  valley: "draw",
};
/** Another landform so near could be meant as well, metres on the sheet times scale. */
const ALONE_MM = 4;

/** Whether contours tell of the ground around: in the middle of a lake or a plain nobody could read its shape. */
function shows(
  at: LonLat,
  radiusM: number,
  interval: number,
  { ground: { elevation } }: DrillGround,
): boolean {
  if (!elevation) return true;
  const heights = [0, 45, 90, 135, 180, 225, 270, 315]
    .map((way) => elevation.at(direct(at, trueBearing(way), radiusM)))
    .concat(elevation.at(at));
  return Math.max(...heights) - Math.min(...heights) >= interval;
}

export const askLandform: Asker = async (ground, n) => {
  const interval = intervalM(ground) ?? 10;
  const forms = await ground.landforms();
  const aloneM = (ALONE_MM * ground.wish.scale) / 1000;
  const clear = (form: Landform): boolean =>
    form.kind !== "cliff" &&
    form.reliefM >= 2 * interval &&
    shows(form.lonLat, aloneM, interval, ground) &&
    forms.every(
      (other) =>
        other === form ||
        other.kind === form.kind ||
        other.kind === LIKE[form.kind] ||
        inverse(other.lonLat, form.lonLat).distanceM > aloneM,
    );
  // The rarer kinds would never come up if every landform had the same chance.
  const kinds = ground.chance.shuffled([...new Set(forms.filter(clear).map(({ kind }) => kind))]);
  const form = ground.chance.shuffled(forms.filter((one) => one.kind === kinds[0] && clear(one)))[0];
  if (!form) return null;
  const like = LIKE[form.kind];
  const [mark] = marksOf(n, form.lonLat);
  return {
    ask: `What landform lies at ${mark?.label}?`,
    marks: marksOf(n, form.lonLat),
    joined: false,
    answer: wordAnswer(
      `A ${form.kind}`,
      like ? `“${kindWord(like)}” counts as well.` : "Only this is right.",
    ),
    working: [
      `A ${form.kind} is ${MEANING[form.kind]}.`,
      LOOKS[form.kind],
      `This one stands ${form.atLeast ? "at least " : ""}${formatHeight(form.reliefM)} ${IS_LOW.has(form.kind) ? "below" : "above"} what lies beside it.`,
    ],
  };
};

const IS_LOW: ReadonlySet<LandformKind> = new Set(["valley", "draw", "depression", "saddle"]);

/** How contours show each, after the drawings of US Army TC 3-25.26 chapter 9, in words of our own. */
const LOOKS: Readonly<Record<LandformKind, string>> = {
  hill: "Contours close around it, each inner one higher.",
  saddle: "Two sets of contours bulge towards each other like an hourglass, higher ground beyond both.",
  valley: "Contours bend into long U or V shapes that point uphill, often with a stream in them.",
  ridge: "Contours bend into long U or V shapes that point downhill.",
  depression: "Contours close around it, with ticks on the inner, lower side.",
  spur: "Contours bend into short U or V shapes that point downhill.",
  draw: "Contours bend into short V shapes that point uphill.",
  cliff: "Contours run together, or ticks mark the edge.",
};

/** Heights are asked for at so many even stretches. */
const STRETCHES = 8;

export const askProfile: Asker = async (ground, n) => {
  const interval = intervalM(ground) ?? 10;
  const pair = ground.pair(40, 90);
  if (!pair) return null;
  const { distanceM, elevationM } = await ground.profile(...pair);
  const lengthM = distanceM.at(-1) ?? 0;
  if (elevationM.length === 0 || elevationM.some((height) => Number.isNaN(height))) return null;
  const heightAt = (metres: number): number => {
    const i = Math.max(
      1,
      distanceM.findIndex((d) => d >= metres - 1e-6),
    );
    const [d0, d1] = [distanceM[i - 1] as number, distanceM[i] as number];
    const share = d1 > d0 ? (metres - d0) / (d1 - d0) : 0;
    return (elevationM[i - 1] as number) * (1 - share) + (elevationM[i] as number) * share;
  };
  const at = Array.from({ length: STRETCHES + 1 }, (_, i) => (lengthM * i) / STRETCHES);
  const heights = at.map(heightAt);
  const [high, low] = [Math.max(...elevationM), Math.min(...elevationM)];
  if (high - low < 4 * interval) return null;
  const [a, b] = marksOf(n, ...pair).map(({ label }) => label);
  const highAt = distanceM[elevationM.indexOf(high)] as number;
  const lowAt = distanceM[elevationM.indexOf(low)] as number;
  return {
    ask: `Sketch the ground from ${a} to ${b} as seen from the side.`,
    marks: marksOf(n, ...pair),
    joined: true,
    answer: {
      text: `Highest ${formatHeight(high)} after ${formatLength(highAt)}, lowest ${formatHeight(low)} after ${formatLength(lowAt)}`,
      value: null,
      within: null,
      accepted: `Right when the tops and bottoms are in their places and no height is off by more than one interval, ${formatHeight(interval)}.`,
      sketch: { distanceM: at, elevationM: heights },
    },
    working: [
      `Lay a strip of paper from ${a} to ${b}, mark each contour on it with its height, and carry the marks down to lines ${formatNumber(interval)} m apart.`,
      `Every eighth of the way the heights are ${heights.map((height) => formatHeight(height)).join(", ")}.`,
    ],
  };
};
