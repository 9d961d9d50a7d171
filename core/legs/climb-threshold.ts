import type { LegSettings } from "./leg-settings.ts";

/** Reversals smaller than this are not climbed: as set, else a tenth of the contour interval, at least 1 m. */
export function climbThresholdM(
  settings: Pick<LegSettings, "climbThresholdM">,
  interval: { readonly value: number; readonly unit: "m" | "ft" } | null,
): number {
  const intervalM = interval ? interval.value * (interval.unit === "ft" ? 0.3048 : 1) : 0;
  return settings.climbThresholdM ?? Math.max(1, intervalM / 10);
}
