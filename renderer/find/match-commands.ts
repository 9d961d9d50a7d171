/** Which commands a typed text may mean: "pri" is "Print…", "slope shade" is "Shade the ground by slope". */
import { foldName } from "./match-names.ts";

/** Fewer letters mean too much. */
const LEAST_LETTERS = 2;

const wordsIn = (text: string): string[] => foldName(text).match(/[\p{Letter}\p{Number}]+/gu) ?? [];

/**
 * Every word typed has to begin a word of the name, in any order. The shortest names first: they say the least beside what was typed.
 * @param nameOf what each is called now
 */
export function matchCommands<T>(text: string, all: readonly T[], nameOf: (one: T) => string, most = 4): T[] {
  const typed = wordsIn(text);
  if (typed.join("").length < LEAST_LETTERS) return [];
  return all
    .map((one) => [one, nameOf(one)] as const)
    .filter(([, name]) => {
      const of = wordsIn(name);
      return typed.every((word) => of.some((own) => own.startsWith(word)));
    })
    .toSorted(([, a], [, b]) => a.length - b.length)
    .slice(0, most)
    .map(([one]) => one);
}
