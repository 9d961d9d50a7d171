/** The contours of a whole model, followed band by band before any is drawn: how many there are, and which ring lower ground. */
import type { Crew } from "./crew.ts";
import { BAND_MULTIPLE, type BandScan, hasEnds, joinBands } from "./depressions.ts";
import { bandRowsOf } from "./height-survey.ts";
import type { Frame } from "./height-source.ts";
import { type KeySet, keySet } from "./key-set.ts";
import { runAll } from "./map-blocks.ts";
import type { Pace } from "./pace.ts";
import type { ScanPiece } from "./pieces.ts";

export interface ContourScan {
  /** Whole lines. */
  readonly lines: number;
  readonly levels: number;
  readonly vertices: number;
  /** As `depressionsOf` takes it. */
  readonly depressions: KeySet;
}

/** Share of the work that the first of two goes takes. */
const FIRST_GO = 0.8;

export async function scanContours(crew: Crew, { columns, rows }: Frame, going: Pace): Promise<ContourScan> {
  const bandRows = bandRowsOf(columns, BAND_MULTIPLE);
  const bands: ScanPiece[] = [];
  for (let row = 0; row + 1 < rows; row += bandRows)
    bands.push({ kind: "scan", row, rows: Math.min(bandRows + 1, rows - row), asked: null });
  const scans: { readonly scan: BandScan; readonly band: ScanPiece }[] = [];
  await runAll(
    crew,
    bands,
    (scan, band) => void scans.push({ scan, band }),
    (done) => going.step(FIRST_GO * done),
  );
  const { ends, lines } = joinBands(scans.map(({ scan }) => scan));
  const mesh = scans.map(({ scan }) => scan.mesh);
  await runAll(
    crew,
    scans.filter(({ scan }) => hasEnds(scan, ends)).map(({ band }) => ({ ...band, asked: ends })),
    (scan) => void mesh.push(scan.mesh),
    (done) => going.step(FIRST_GO + (1 - FIRST_GO) * done),
  );
  return {
    lines,
    levels: new Set(scans.flatMap(({ scan }) => scan.levels)).size,
    vertices: scans.reduce((sum, { scan }) => sum + scan.vertices, 0),
    depressions: keySet(mesh),
  };
}
