/** A worked example for a walk without legs: 850 m over a rounded rise, in the middle of the map. */
import { direct, inverse } from "../../core/geodesy/geodesic.ts";
import type { WalkFigures } from "../../core/legs/figures.ts";
import type { LegSettings } from "../../core/legs/leg-settings.ts";
import { walkFigures } from "../../core/legs/walk-figures.ts";
import type { MapFeatures } from "../../core/map/features.ts";
import type { Ground } from "../../core/terrain/ground.ts";
import { trueBearing } from "../../core/units/angle.ts";
import type { Bbox, LonLat } from "../../core/units/position.ts";
import { settingsWords } from "../words/settings-words.ts";

const LENGTH_M = 850;
const BEARING = trueBearing(62);
const FOOT_M = 420;
const RISE_M = 64;
/** Where without a map, in the middle of Europe. */
const ANYWHERE: LonLat = [10, 50];

function ground(from: LonLat, bounds: Bbox): Ground {
  const bare: MapFeatures = {
    info: {
      id: "example",
      title: "",
      bounds,
      minZoom: 0,
      maxZoom: 0,
      roles: {},
      rolesFrom: "metadata",
      interval: null,
      source: null,
      date: null,
      attribution: null,
      datum: null,
      invented: true,
      elevationCellM: 10,
    },
    prepare: async () => undefined,
    isPrepared: () => true,
    lines: () => [],
    points: () => [],
    areas: () => [],
    blind: () => [],
  };
  return {
    map: bare,
    elevation: {
      spacingM: () => 10,
      prepare: async () => undefined,
      isPrepared: () => true,
      // Up for two thirds of the way, then a third of it down again.
      at: (lonLat) =>
        FOOT_M + RISE_M * Math.sin((inverse(from, lonLat).distanceM / LENGTH_M) * 0.75 * Math.PI),
    },
  };
}

/** @param middle of the map; null takes a place in the middle of Europe */
export async function exampleFigures(
  middle: LonLat | null,
  settings: LegSettings,
  signal?: AbortSignal,
): Promise<WalkFigures> {
  const from = middle ?? ANYWHERE;
  const to = direct(from, BEARING, LENGTH_M);
  const ends = [
    { label: settingsWords.preview.exampleFrom, lonLat: from },
    { label: settingsWords.preview.exampleTo, lonLat: to },
  ];
  const bounds: Bbox = [from[0] - 1, from[1] - 1, from[0] + 1, from[1] + 1];
  return walkFigures(ends, ground(from, bounds), settings, signal);
}
