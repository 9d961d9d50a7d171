/** Who does the pieces. */
import { plainCodecs } from "./codecs.ts";
import type { HeightSource } from "./height-source.ts";
import { kitOf, type Piece, type ResultOf, runPiece, type Setup } from "./pieces.ts";

export interface Crew {
  /** How many pieces are worth handing out at a time. */
  readonly size: number;
  /** @throws Fault as the piece does */
  run<P extends Piece>(piece: P): Promise<ResultOf<P>>;
}

/** This thread. */
export function localCrew(setup: Setup, source: HeightSource): Crew {
  const kit = kitOf(setup, source, plainCodecs);
  return { size: 1, run: async <P extends Piece>(piece: P) => (await runPiece(kit, piece)) as ResultOf<P> };
}
