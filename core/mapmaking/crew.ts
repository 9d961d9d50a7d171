/** Who does the pieces. */
import { type Codecs, plainCodecs } from "./codecs.ts";
import type { HeightSource } from "./height-source.ts";
import type { SpoolReader } from "./spool.ts";
import { kitOf, type Piece, type ResultOf, runPiece, type Setup } from "./pieces.ts";

export interface Crew {
  /** How many pieces are worth handing out at a time. */
  readonly size: number;
  /** For what whoever hands out pieces has to pack itself. */
  readonly codecs: Codecs;
  /**
   * @param told hears which share of a long piece is done
   * @throws Fault as the piece does
   */
  run<P extends Piece>(piece: P, told?: (done: number) => void): Promise<ResultOf<P>>;
}

/** This thread. */
export function localCrew(setup: Setup, source: HeightSource, features: SpoolReader): Crew {
  const kit = kitOf(setup, source, features, plainCodecs);
  return {
    size: 1,
    codecs: plainCodecs,
    run: async <P extends Piece>(piece: P, told?: (done: number) => void) =>
      (await runPiece(kit, piece, told)) as ResultOf<P>,
  };
}
