import type { Progress } from "../../core/mapmaking/pace.ts";
import { FILLING } from "./map-making/stored-heights.ts";

type Part = "elevation" | "filling" | "features" | "drawing";

/** Parts of making a map that each count from 0 to 1; by the stage that begins them, else it is drawing. */
const PARTS: Readonly<Record<string, Part>> = {
  "Reading elevation": "elevation",
  [FILLING]: "filling",
  "Reading features": "features",
};

/**
 * One progress from 0 to 1, never going back, out of parts that each count for themselves, in whatever order they come.
 * Shares are measured on a model of one degree with features; no source.
 */
export function wholeProgress(
  hasFeatures: boolean,
  fillsVoids: boolean,
  now: () => number = () => performance.now(),
): (part: Progress) => Progress {
  const shares = { elevation: 0.05, filling: fillsVoids ? 0.05 : 0, features: hasFeatures ? 0.15 : 0 };
  const share = (part: Part): number =>
    part === "drawing" ? 1 - shares.elevation - shares.filling - shares.features : shares[part];
  const done: Record<Part, number> = { elevation: 0, filling: 0, features: 0, drawing: 0 };
  const all = Object.keys(done) as Part[];
  const started = now();
  let most = 0;
  return ({ stage, done: at }) => {
    const part = PARTS[stage] ?? "drawing";
    done[part] = Math.max(done[part], at);
    // Drawing begins when all is read.
    if (part === "drawing") done.elevation = done.filling = done.features = 1;
    const sum = stage === "Done" ? 1 : all.reduce((total, each) => total + done[each] * share(each), 0);
    most = Math.min(1, Math.max(most, sum));
    const spentS = (now() - started) / 1000;
    return { stage, done: most, leftS: most > 0.05 ? (spentS * (1 - most)) / most : null };
  };
}
