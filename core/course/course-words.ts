/** What is said when a course cannot be set, or when one changed by hand breaks a rule. */
import { Fault } from "../fault.ts";
import type { CourseRules } from "./course.ts";
import type { CourseRule } from "./course-search.ts";
import type { LegRule } from "./leg-judge.ts";

export type Rule = LegRule | CourseRule;

/** The rules that were asked for, as they are listed; those that ask nothing are left out. */
export const rulesAsked = ({
  backstops,
  oddsAtLeast,
  apartM,
  totalM,
  climbM,
}: CourseRules): readonly Rule[] => [
  "length",
  "map",
  "hazard",
  "target",
  ...(backstops ? (["backstop"] as const) : []),
  ...(oddsAtLeast === null ? [] : (["odds"] as const)),
  ...(apartM > 0 ? (["apart"] as const) : []),
  ...(totalM ? (["total"] as const) : []),
  ...(climbM ? (["climb"] as const) : []),
];

/** How often a rule was broken, as part of a sentence. */
const BROKEN: Readonly<Record<LegRule, (legs: string) => string>> = {
  length: (legs) => `${legs} shorter or longer than asked for`,
  map: (legs) => `${legs} off the map or its heights`,
  hazard: (legs) => `${legs} through something dangerous or closed`,
  target: (legs) => `${legs} to a place of the wrong kind`,
  backstop: (legs) => `${legs} without a backstop`,
  odds: (legs) => `${legs} on which too few find the point`,
};

/** The rule in words, and what loosens it. */
export function ruleWords(
  rule: Rule,
  rules: CourseRules,
): { readonly rule: string; readonly remedy: string } {
  const { legM, oddsAtLeast, on, totalM, climbM, apartM, clearOf } = rules;
  const metres = ([low, high]: readonly [number, number]): string => `${low} m to ${high} m`;
  switch (rule) {
    case "length":
      return { rule: `Legs of ${metres(legM)}`, remedy: "Allow a wider range of lengths, or fewer points." };
    case "map":
      return {
        rule: "Every leg on the map and its heights",
        remedy: "Start farther from the map’s edge, or ask for shorter legs.",
      };
    case "hazard":
      return {
        rule:
          clearOf === "cone"
            ? "No leg through anything dangerous or closed, no cliff or steep ground within its drift cone"
            : "No leg through anything dangerous or closed",
        remedy: "Start elsewhere, or ask for shorter legs.",
      };
    case "target":
      return on === "bare"
        ? {
            rule: "Every point on bare ground",
            remedy: "Let points stand on something findable, or start elsewhere.",
          }
        : {
            rule: "Every point on something findable",
            remedy: "Let points stand on bare ground, or start where the map shows more.",
          };
    case "backstop":
      return {
        rule: "A backstop for every leg",
        remedy: "Do without backstops, or start where there are more lines.",
      };
    case "odds":
      return {
        rule: `At least ${Math.round((oddsAtLeast ?? 0) * 100)} of 100 find every point`,
        remedy: "Ask for lower odds or shorter legs.",
      };
    case "places":
      return {
        rule: "Enough places for points",
        remedy:
          on === "found"
            ? "Let points stand on bare ground, ask for fewer, or start where the map shows more."
            : "Ask for fewer points, or start elsewhere.",
      };
    case "apart":
      return {
        rule: `Points ${apartM} m apart`,
        remedy: "Let points lie closer together, or ask for fewer.",
      };
    case "total":
      return {
        rule: `A course of ${totalM ? metres(totalM) : "any length"}`,
        remedy: "Allow a wider range of lengths for the whole course.",
      };
    case "climb":
      return {
        rule: `A climb of ${climbM ? metres(climbM) : "any height"}`,
        remedy: "Allow more climb or less, or start elsewhere.",
      };
  }
}

/** Why no course was found: the rule that stood in the way most, and what the legs tried broke. */
export function noCourse(
  rules: CourseRules,
  legs: ReadonlyMap<LegRule | "kept", number>,
  whole: ReadonlyMap<CourseRule, number>,
): Fault {
  const broken = [...legs].filter((entry): entry is [LegRule, number] => entry[0] !== "kept");
  // Lengths are looked at before anything else, at no cost: many legs fail by them on the way to one that does not.
  const telling = broken.filter(([rule]) => rule !== "length").sort((a, b) => b[1] - a[1]);
  const total = [...whole].sort((a, b) => b[1] - a[1]);
  // Where whole sets of legs were found, only what they add up to was wrong.
  const sums = total.filter(([rule]) => rule === "total" || rule === "climb");
  const [worst] = sums[0] ?? telling[0] ?? total[0] ?? broken[0] ?? ["places" as const];
  const tried = [...legs].reduce((sum, [rule, n]) => (rule === "length" ? sum : sum + n), 0);
  const { rule, remedy } = ruleWords(worst, rules);
  const list = telling.map(([name, n]) => BROKEN[name](String(n))).join(", ");
  return new Fault(
    "no-course",
    `No course was found that keeps every rule; this one stood in the way most: ${rule.charAt(0).toLowerCase()}${rule.slice(1)}.`,
    tried === 0 ? null : `${tried} legs tried${list ? `: ${list}` : ""}`,
    remedy,
  );
}

/** One broken rule, a sentence. @param pair of points too close together, by their places */
export function brokenWords(
  rule: Rule,
  rules: CourseRules,
  leg: number | null,
  pair: readonly [number, number] | null = null,
): string {
  const { rule: asked } = ruleWords(rule, rules);
  const where = leg !== null ? `Leg ${leg}` : pair ? `Points ${pair[0]} and ${pair[1]}` : "The course";
  return `${where} ${leg !== null || !pair ? "breaks" : "break"} a rule: ${asked.charAt(0).toLowerCase()}${asked.slice(1)}.`;
}
