/** Whether a leg keeps the rules of a course, and its figures. Each leg is judged once. */
import { inverse } from "../geodesy/geodesic.ts";
import { legFrame } from "../geodesy/leg-frame.ts";
import { planOf, oddsSettingsOf } from "../legs/advice/leg-plan.ts";
import type { AdviceSettings } from "../legs/advice/advice-settings.ts";
import { attackBox } from "../legs/aids/attack-points.ts";
import { NEARLY_ALL } from "../legs/aids/backstop-words.ts";
import { frameLines } from "../legs/aids/framed-line.ts";
import type { LegFigures } from "../legs/figures.ts";
import { legFigures } from "../legs/leg-figures.ts";
import type { LegSettings } from "../legs/leg-settings.ts";
import { isGroundShape, LEG_LINE_KINDS } from "../legs/line-kinds.ts";
import { oddsOf } from "../legs/odds/odds-of.ts";
import type { Odds } from "../legs/odds/simulate.ts";
import { legLinesBox, legSearchBox } from "../legs/search-box.ts";
import { type Ground, prepareGround } from "../terrain/ground.ts";
import { type LonLat, unionBbox } from "../units/position.ts";
import { breathing } from "./breath.ts";
import type { CourseRules } from "./course.ts";

/** The rules a leg can break, in the order in which they are looked at: the cheapest first. */
export const LEG_RULES = ["length", "map", "hazard", "target", "backstop", "odds"] as const;
export type LegRule = (typeof LEG_RULES)[number];

export interface Judged {
  /** The first rule the leg breaks; null when it keeps all. */
  readonly broken: LegRule | null;
  /** Absent when the leg's length alone rules it out. */
  readonly figures: LegFigures | null;
  readonly odds: Odds | null;
}

export interface CourseSettings {
  readonly legs: LegSettings;
  readonly advice: AdviceSettings;
}

/** Lengths are asked for in metres: half of one is rounding. */
const ROUNDING_M = 0.5;
/**
 * Walkers of a first look, which settles most legs: so far from the odds asked for they are hardly ever wrong, over four
 * standard deviations of a share of so many.
 */
const FEW = 1000;
const SURE = 0.07;
/** A course has up to dozens of legs. A share of so many is sure to two of a hundred, and a course is set within two seconds. */
const MOST_WALKERS = 4000;

export class LegJudge {
  readonly #known = new Map<string, Promise<Judged>>();
  /** How many legs broke each rule first. */
  readonly tally = new Map<LegRule | "kept", number>();
  /** Legs whose figures were worked out. */
  judged = 0;

  readonly #breath: () => Promise<void>;

  constructor(
    private readonly ground: Ground,
    private readonly rules: CourseRules,
    private readonly settings: CourseSettings,
    private readonly signal?: AbortSignal,
  ) {
    this.#breath = breathing(signal);
  }

  /** @param target whether the leg's end must be what the rules say of points: not so where it leads back to the start */
  judge(from: LonLat, to: LonLat, target: boolean): Promise<Judged> {
    const key = `${from.join()} ${to.join()} ${target}`;
    let judged = this.#known.get(key);
    if (!judged) this.#known.set(key, (judged = this.#counted(from, to, target)));
    return judged;
  }

  async #counted(from: LonLat, to: LonLat, target: boolean): Promise<Judged> {
    const judged: Judged = this.#keepsLength(from, to)
      ? await this.#look(from, to, target)
      : { broken: "length", figures: null, odds: null };
    const key = judged.broken ?? "kept";
    this.tally.set(key, (this.tally.get(key) ?? 0) + 1);
    return judged;
  }

  #keepsLength(from: LonLat, to: LonLat): boolean {
    const [least, most] = this.rules.legM;
    const { distanceM } = inverse(from, to);
    return distanceM >= least - ROUNDING_M && distanceM <= most + ROUNDING_M;
  }

  async #look(from: LonLat, to: LonLat, target: boolean): Promise<Judged> {
    const figures = await this.#figures(from, to);
    let odds: Odds | null = null;
    const least = this.rules.oddsAtLeast;
    const oddsOfLeg = (): number => (odds = this.#enoughOdds(figures, least ?? 0)).find;
    const [broken = null] = this.#breaks(figures, target, oddsOfLeg);
    return { broken, figures, odds: broken === null ? odds : null };
  }

  /** Every rule a leg breaks, with figures whatever its length, and the odds by all walkers where odds are asked for; not remembered. */
  async lookAtAll(
    from: LonLat,
    to: LonLat,
    target: boolean,
  ): Promise<{
    readonly broken: readonly LegRule[];
    readonly figures: LegFigures;
    readonly odds: Odds | null;
  }> {
    const figures = await this.#figures(from, to);
    const hasLength = figures.distanceM > 0;
    const asked = this.rules.oddsAtLeast !== null && hasLength;
    const odds = asked ? this.#odds(figures, this.#walkers) : null;
    const broken = [...this.#breaks(figures, target, () => odds?.find ?? 0)];
    return { broken, figures, odds };
  }

  async #figures(from: LonLat, to: LonLat): Promise<LegFigures> {
    this.judged++;
    await this.#breath();
    await this.#prepare(from, to);
    const ends = { n: 1, from: { label: "", lonLat: from }, to: { label: "", lonLat: to } };
    return legFigures(ends, this.ground, this.settings.legs);
  }

  /** The rules a leg breaks, in the order of `LEG_RULES`. @param find the share of walkers who find its end, dear to work out */
  *#breaks(figures: LegFigures, target: boolean, find: () => number): Generator<LegRule> {
    const { on, backstops, oddsAtLeast, clearOf } = this.rules;
    const { fromLonLat, toLonLat, blind, profile, hazards, distanceM, targetIsHard, backstop } = figures;
    if (!this.#keepsLength(fromLonLat, toLonLat)) yield "length";
    // Where heights end nobody knows how steep it is.
    if (blind.length > 0 || (this.ground.elevation && profile.blind.length > 0)) yield "map";
    if (hazards.some((hazard) => isInTheWay(hazard, distanceM, clearOf))) yield "hazard";
    if (target && targetIsHard?.hard !== (on === "bare")) yield "target";
    if (backstops && !isSure(backstop)) yield "backstop";
    if (oddsAtLeast !== null && find() < oddsAtLeast) yield "odds";
  }

  /** By as few walkers as tell whether the odds are as asked for. */
  #enoughOdds(leg: LegFigures, asked: number): Odds {
    const few = this.#odds(leg, Math.min(FEW, this.#walkers));
    return Math.abs(few.find - asked) > SURE ? few : this.#odds(leg, this.#walkers);
  }

  get #walkers(): number {
    return Math.min(MOST_WALKERS, this.settings.advice.walkers);
  }

  /** The odds of a leg by all the walkers that courses send. @param known those worked out while judging it */
  async allOdds(leg: LegFigures, known: Odds): Promise<Odds> {
    if (known.walkers === this.#walkers) return known;
    await this.#prepare(leg.fromLonLat, leg.toLonLat);
    return this.#odds(leg, this.#walkers);
  }

  #prepare(from: LonLat, to: LonLat): Promise<void> {
    const box = unionBbox(legSearchBox(from, to, this.settings.legs), attackBox(to));
    return prepareGround(this.ground, box, this.signal);
  }

  #odds(leg: LegFigures, walkers: number): Odds {
    const { legs, advice } = this.settings;
    const { fromLonLat: from, toLonLat: to } = leg;
    const frame = legFrame(from, to);
    const box = unionBbox(legLinesBox(from, to, legs), attackBox(to));
    const lines = frameLines(frame, this.ground.map.lines(box, LEG_LINE_KINDS));
    const run = oddsOf(frame, lines, planOf(leg, advice), oddsSettingsOf(advice, legs), {
      walkers,
      seed: advice.seed,
    });
    // A leg within the lengths asked for has one.
    const { find, stopped, missed, seed } = run as NonNullable<typeof run>;
    return { find, stopped, missed, walkers, seed };
  }
}

/** Nearly all are stopped, and by something a beginner notices: the mere shape of the ground is walked over. */
const isSure = (backstop: LegFigures["backstop"]): boolean =>
  backstop !== null && backstop.stoppedShare >= NEARLY_ALL && !isGroundShape(backstop.kind);

/** Standing by a road or by water is not crossing it, metres. */
const BY_M = 10;
const MAY_STAND_BY: ReadonlySet<string> = new Set(["road", "stream", "river", "water"]);

function isInTheWay(
  { kind, side, fromM, toM }: LegFigures["hazards"][number],
  lengthM: number,
  clearOf: CourseRules["clearOf"],
): boolean {
  if (fromM >= lengthM) return false;
  if (MAY_STAND_BY.has(kind) && (toM <= BY_M || fromM >= lengthM - BY_M)) return false;
  return side === "on" || (clearOf === "cone" && (kind === "cliff" || kind === "steep"));
}
