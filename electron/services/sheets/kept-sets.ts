/** A page set is some megabytes: what is on screen is kept, and what was before the last changes. */
export const KEPT_SETS = 3;
