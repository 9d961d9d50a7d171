/** Which part of the settings is open: kept, so that one comes back to where one was. */
import { signal } from "@preact/signals";

export const SHEETS = ["compass", "declination", "pace", "time", "odds", "places"] as const;
export type SheetId = (typeof SHEETS)[number];

export const openSheet = signal<SheetId>("compass");
