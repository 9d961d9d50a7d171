/** An index over the runs of segments of a tile's lines, one for each kind. */
import Flatbush from "flatbush";
import type { LineFeature } from "./features.ts";
import type { Kind } from "./kinds.ts";
import { runBoxesOf } from "./line-runs.ts";

/** Runs of segments of the lines of one kind. */
export interface RunIndex {
  readonly boxes: Flatbush;
  /** Line, as a place in `lines`, of each run. */
  readonly lineOf: Uint32Array;
}

export function indexRuns(lines: readonly LineFeature[]): Map<Kind, RunIndex> {
  const byKind = new Map<Kind, number[]>();
  lines.forEach(({ kind }, i) => {
    const members = byKind.get(kind);
    if (members) members.push(i);
    else byKind.set(kind, [i]);
  });
  const indexes = new Map<Kind, RunIndex>();
  for (const [kind, members] of byKind) {
    let count = 0;
    for (const i of members) count += runBoxesOf(lines[i] as LineFeature).length / 4;
    const boxes = new Flatbush(count);
    const lineOf = new Uint32Array(count);
    for (const i of members) {
      const runs = runBoxesOf(lines[i] as LineFeature);
      for (let r = 0; r < runs.length; r += 4)
        lineOf[boxes.add(runs[r] as number, runs[r + 1] as number, runs[r + 2], runs[r + 3])] = i;
    }
    boxes.finish();
    indexes.set(kind, { boxes, lineOf });
  }
  return indexes;
}
