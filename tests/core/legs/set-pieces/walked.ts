/** A leg of 1000 m east on lines drawn by metres east and north: one right answer any instructor knows (common practice, no source). */
import type { LegFigures } from "../../../../core/legs/figures.ts";
import { legFigures } from "../../../../core/legs/leg-figures.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../../core/legs/leg-settings.ts";
import type { LineFeature } from "../../../../core/map/features.ts";
import type { ElevationModel } from "../../../../core/terrain/elevation.ts";
import { ground, place } from "../support/line-map.ts";

export const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };

export const walked = (lines: readonly LineFeature[], elevation: ElevationModel | null = null): LegFigures =>
  legFigures(
    { n: 1, from: { label: "A", lonLat: place(0, 0) }, to: { label: "B", lonLat: place(1000, 0) } },
    ground(lines, elevation),
    settings,
  );
