/** What the map case says of a map. */
import { expect, it } from "vitest";
import { ageText, modelText, placeText } from "../../../renderer/map-case/map-facts.ts";
import type { MapEntry } from "../../../electron/contract.ts";

const plain = (text: string | null): string | null => text?.replaceAll(/[\u00a0\u202f]/g, " ") ?? null;
const wording = (notation: "dd" | "mgrs", unit: "metric" | "imperial") => ({
  notation,
  grids: { grids: [], gridName: null },
  unit,
  today: "2026-11-26",
});

it("says where it lies and how large it is", () => {
  // GeodSolve -i (GeographicLib 2.1.2): 26860.0 m along the middle, 11096.9 m down.
  const box = [-84.4, 36.5, -84.1, 36.6] as const;
  expect(plain(placeText(box, wording("dd", "metric")))).toMatch(
    /^36\.500.*84\.400.* to 36\.600.*84\.100.*, 27 km × 11 km$/,
  );
  // 16.69 and 6.90 statute miles of 1609.344 m.
  expect(plain(placeText(box, wording("mgrs", "imperial")))).toMatch(/^16S .* to 16S .*, 17 mi × 6\.9 mi$/);
});

const dated = (date: string | null, fileDay: string | null) => ({ date, fileDay }) as MapEntry;

it("says how old the data is, and when only the file tells", () => {
  expect(ageText(dated("2014", null), "2026-11-26")).toBe("data of 2014, 12 years old");
  expect(ageText(dated("2026-08-30", null), "2026-11-26")).toBe("data of 2026-08-30, 3 months old");
  expect(ageText(dated(null, "2026-11-01"), "2026-11-26")).toContain("date of the data not said");
  expect(ageText(dated(null, null), "2026-11-26")).toBeNull();
});

it("says whether the magnetic model holds", () => {
  const here = [8, 46, 9, 47] as const;
  // WMM2025 is valid from 2025.0 to 2030.0. Source: NOAA/NCEI, The World Magnetic Model.
  expect(modelText(here, "2026-11-26")).toEqual({
    text: "Magnetic model WMM2025 covers today here, until the end of 2029",
    warns: false,
  });
  expect(modelText(here, "2030-01-02")).toMatchObject({ warns: true });
  // The north dip pole of 2025 by WMM2025, 85.76° N 139.30° E; from memory of NOAA/NCEI's page of the poles.
  expect(modelText([139, 85.6, 139.6, 85.9], "2026-11-26").text).toContain("blackout");
});
