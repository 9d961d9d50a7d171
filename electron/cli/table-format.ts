/** Apart from the table itself, so that help and usage errors need not load all that works it out. */
export const TABLE_FORMATS = ["text", "json", "csv", "html", "pdf"] as const;
export type TableFormat = (typeof TABLE_FORMATS)[number];
