/** What is said of each rule a course was asked to keep. */
import type { CourseRules } from "./course.ts";
import { type Rule, rulesAsked, ruleWords } from "./course-words.ts";

export interface BrokenRule {
  readonly rule: Rule;
  /** Place of the leg in the course, from 1; null where it is not a leg's. */
  readonly leg: number | null;
  /** A sentence. */
  readonly words: string;
}

export interface Verdict {
  readonly rule: Rule;
  /** "Legs of 150 m to 400 m". */
  readonly words: string;
  /** Where it is broken; nowhere when it is kept. */
  readonly broken: readonly BrokenRule[];
}

/** One verdict for each rule that was asked for. */
export const verdictsOf = (rules: CourseRules, broken: readonly BrokenRule[]): readonly Verdict[] =>
  rulesAsked(rules).map((rule) => ({
    rule,
    words: ruleWords(rule, rules).rule,
    broken: broken.filter((one) => one.rule === rule),
  }));
