/** Apart from the commands themselves, so that help and usage errors need not load all that works them out. */
export const READ_AS = ["any", "british", "grid"] as const;
export type ReadAs = (typeof READ_AS)[number];

export const WRITE_AS = ["all", "mgrs", "utm", "dd", "dm", "dms", "british", "grid"] as const;
export type WriteAs = (typeof WRITE_AS)[number];
