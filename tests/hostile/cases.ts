/** The n-th case: which reader, which good file, what damage. Always the same for the same seed and number. */
import { Fault } from "../../core/fault.ts";
import { dice } from "./dice.ts";
import { mutant } from "./mutants.ts";
import { type Parser, PARSERS } from "./parsers.ts";
import type { Seed } from "./seeds.ts";

export interface Case {
  readonly parser: Parser;
  readonly seed: Seed;
}

const known = new Map<Parser, readonly Seed[]>();
const seedsFor = (parser: Parser): readonly Seed[] => {
  const seeds = known.get(parser) ?? parser.seeds();
  if (seeds.length === 0) throw new Error(`${parser.name}: nothing to damage`);
  known.set(parser, seeds);
  return seeds;
};

const LARGE = 100_000;
/** Large files take long to read: they are damaged this many times less often. */
const RARER = 40;

export function caseOf(seed: number, n: number, only: string | null = null): Case {
  const d = dice(Math.imul(seed, 1_000_003) + n);
  const parsers = only === null ? PARSERS : PARSERS.filter(({ name }) => name === only);
  let left = (d.below(1e9) / 1e9) * parsers.reduce((sum, { weight }) => sum + weight, 0);
  const parser = parsers.find(({ weight }) => (left -= weight) < 0) ?? parsers[0]!;
  const seeds = seedsFor(parser);
  const small = seeds.filter(({ bytes }) => bytes.length <= LARGE);
  const from = small.length > 0 && !d.onceIn(RARER) ? small : seeds;
  const good = d.one(from);
  const others = from.map(({ bytes }) => bytes);
  return { parser, seed: { name: good.name, bytes: mutant(good.bytes, parser.stuff, others, d) } };
}

/** Reads a case. @returns what is wrong with what came of it, or null, and whether it was taken or refused */
export async function judge({ parser, seed }: Case): Promise<{ taken: boolean; wrong: string | null }> {
  try {
    await parser.read(seed);
    return { taken: true, wrong: null };
  } catch (thrown) {
    if (!(thrown instanceof Fault))
      return { taken: false, wrong: thrown instanceof Error ? (thrown.stack ?? thrown.message) : String(thrown) };
    const { code, what, where } = thrown;
    if (code === "internal") return { taken: false, wrong: `internal: ${what}\n${thrown.stack ?? ""}` };
    // A typed text is short enough to be its own place.
    if (parser.ofFile && !where) return { taken: false, wrong: `no place: ${what}` };
    return { taken: false, wrong: null };
  }
} // prettier-ignore
