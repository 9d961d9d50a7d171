/** Areas of a file: a walk has none, so the outer edge of each becomes a line that ends where it begins. */
import { draft, type Draft } from "./exchange.ts";

/** Outer edges and what is left behind of the areas, for every format alike. */
export class Outlines {
  #edges = 0;
  #closed = 0;
  holes = 0;

  begin(): Draft {
    this.#edges++;
    return draft("outline");
  }

  /** An edge ends on its first position: both formats ask for it, and not every program does it. */
  end({ positions, names, pointNotes }: Draft): void {
    const [first] = positions;
    const last = positions.at(-1);
    if (!first || !last || (first[0] === last[0] && first[1] === last[1])) return;
    this.#closed++;
    positions.push(first);
    names.push(null);
    pointNotes.push("");
  }

  sentences(): string[] {
    const told: string[] = [];
    if (this.#edges > 0)
      told.push(
        `Areas were read as the line around each: ${this.#edges}. A walk written again is a line, not an area.`,
      );
    if (this.holes > 0) told.push(`Holes in areas were left out: ${this.holes}.`);
    if (this.#closed > 0)
      told.push(`Edges of areas that stopped short of their beginning were closed: ${this.#closed}.`);
    return told;
  }
}
