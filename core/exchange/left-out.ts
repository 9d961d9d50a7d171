/** Counts what a reader passes over, so that it can be said. */
export class LeftOut {
  readonly #counts = new Map<string, number>();

  add(what: string): void {
    // A file of nothing but names costs no more than this.
    if (this.#counts.size < MOST_KINDS || this.#counts.has(what))
      this.#counts.set(what, (this.#counts.get(what) ?? 0) + 1);
  }

  /** @param ofWhat "positions", "places" and the like: “sym” was left out (positions: 3); "the file" has no number. */
  sentences(ofWhat: string): string[] {
    const kinds = [...this.#counts];
    const told = kinds
      .slice(0, MOST_TOLD)
      .map(([what, count]) =>
        ofWhat === "the file"
          ? `“${what.slice(0, 40)}” of the file was left out.`
          : `“${what.slice(0, 40)}” was left out (${ofWhat}: ${count}).`,
      );
    const more = kinds.length - told.length;
    return more > 0 ? [...told, `More of the kind was left out: ${more}.`] : told;
  }
}

const MOST_TOLD = 20;
const MOST_KINDS = 1_000;
