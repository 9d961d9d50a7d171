import { Fault } from "../fault.ts";

/**
 * A calendar day as a decimal year: the share of its year gone by at 00:00 UTC, 2025-01-01 being 2025.0.
 * @param date YYYY-MM-DD
 * @throws Fault "bad-argument" when it is no calendar day
 */
export function decimalYear(date: string): number {
  const parts = /^(\d{4})-(\d\d)-(\d\d)$/.exec(date);
  const year = Number(parts?.[1]);
  const day = Date.UTC(year, Number(parts?.[2]) - 1, Number(parts?.[3]));
  // Reading back catches 30 February, which Date would carry into March.
  if (!parts || Number.isNaN(day) || new Date(day).toISOString().slice(0, 10) !== date)
    throw new Fault(
      "bad-argument",
      `“${date}” is not a day.`,
      null,
      "Write year, month and day, such as 2026-05-01.",
    );
  const start = Date.UTC(year, 0, 1);
  return year + (day - start) / (Date.UTC(year + 1, 0, 1) - start);
}
