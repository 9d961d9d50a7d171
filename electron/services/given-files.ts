import { resolve } from "node:path";

/** Nobody opens more at once on purpose. */
const MOST_GIVEN = 20;

/**
 * The files among the arguments a program was started with: all that is no flag.
 * @param args without the program itself
 * @param folder in which the person stood, for names without one
 */
export function filesAmong(args: readonly string[], folder: string): string[] {
  return args
    .filter((arg) => arg !== "" && !arg.startsWith("-"))
    .slice(0, MOST_GIVEN)
    .map((arg) => resolve(folder, arg));
}

/** Paths the program was asked to open from outside, until the window takes them. */
export class GivenFiles {
  #waiting: string[] = [];

  give(paths: readonly string[]): void {
    this.#waiting = [...this.#waiting, ...paths].slice(-MOST_GIVEN);
  }

  take(): readonly string[] {
    const taken = this.#waiting;
    this.#waiting = [];
    return taken;
  }
}
