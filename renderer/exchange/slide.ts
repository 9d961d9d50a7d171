/** A slide of a hundred steps for lengths from one metre to two kilometres, each step the same share longer. Pure. */
const FINEST_M = 1;
const COARSEST_M = 2_000;
const STEPS = 100;

/** Metres at a step from 0 to 100, to two figures. */
export const metresAt = (step: number): number =>
  Number((FINEST_M * (COARSEST_M / FINEST_M) ** (step / STEPS)).toPrecision(2));

/** The step next to a length. */
export const slideAt = (metres: number): number =>
  Math.round(
    Math.max(
      0,
      Math.min(
        STEPS,
        (STEPS * Math.log(Math.max(metres, FINEST_M) / FINEST_M)) / Math.log(COARSEST_M / FINEST_M),
      ),
    ),
  );
