/** Every reader of what comes from outside: good input to damage, and the reading of it. Each throws only Faults. */
import type { Stuff } from "./mutants.ts";
import { ARCHIVE_PARSERS } from "./parsers-archives.ts";
import { FILE_PARSERS } from "./parsers-files.ts";
import { TYPED_PARSERS } from "./parsers-typed.ts";
import type { Seed } from "./seeds.ts";

export interface Parser {
  readonly name: string;
  readonly stuff: Stuff;
  /** How often it is tried, beside the others. */
  readonly weight: number;
  readonly seeds: () => readonly Seed[];
  /** A file has a place to name; a typed text is its own place. */
  readonly ofFile: boolean;
  /** What came of it is looked at as well: it throws an Error, no Fault, for what cannot be. */
  read(seed: Seed): Promise<void> | void;
}

export const PARSERS: readonly Parser[] = [...FILE_PARSERS, ...ARCHIVE_PARSERS, ...TYPED_PARSERS];
