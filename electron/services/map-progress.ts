import type { Progress } from "../../core/mapmaking/pace.ts";

/**
 * Reading elevation, reading features and drawing each count from 0 to 1, and reading elevation may come between; what a
 * person is told goes from 0 to 1 once.
 * Shares are measured on a model of one degree with features; no source.
 */
export function wholeProgress(
  hasFeatures: boolean,
  fillsVoids: boolean,
  now: () => number = () => performance.now(),
): (part: Progress) => Progress {
  const shares = { elevation: fillsVoids ? 0.25 : 0.1, features: hasFeatures ? 0.15 : 0 };
  const done = { elevation: 0, features: 0, drawing: 0 };
  const started = now();
  let most = 0;
  return ({ stage, done: part }) => {
    if (stage === "Done") done.elevation = done.features = done.drawing = 1;
    else {
      const key =
        stage === "Reading elevation" ? "elevation" : stage === "Reading features" ? "features" : "drawing";
      done[key] = Math.max(done[key], part);
      // Drawing begins when all is read.
      if (key === "drawing") done.elevation = done.features = 1;
    }
    const drawing = 1 - shares.elevation - shares.features;
    most = Math.max(
      most,
      done.elevation * shares.elevation + done.features * shares.features + done.drawing * drawing,
    );
    const spentS = (now() - started) / 1000;
    return { stage, done: most, leftS: most > 0.05 ? (spentS * (1 - most)) / most : null };
  };
}
