/** The sample from the seed: ground, features, map archives and walk. */
import { makeMap } from "../core/mapmaking/make-map.ts";
import type { MapReport } from "../core/mapmaking/map-request.ts";
import { formatWalk } from "../core/walk/walk-file.ts";
import { RESERVE } from "./features/gazetteer.ts";
import { makeFeatures } from "./features/reserve-features.ts";
import { roleFeatures } from "./features/role-features.ts";
import { elevationGrid } from "./features/sheet-frame.ts";
import { SEED } from "./terrain/recipe.ts";
import { makeTerrain } from "./terrain/reserve-terrain.ts";
import { practiceWalk } from "./walk/practice-walk.ts";

export const MAP_ID = "uldermoor-invented-1";

export interface Sample {
  readonly archive: Uint8Array;
  readonly terrain: Uint8Array;
  readonly walk: string;
  readonly report: MapReport;
}

export async function makeSample(tell: (stage: string) => void): Promise<Sample> {
  tell("Shaping the ground");
  const ground = makeTerrain(SEED);
  tell("Finding where things stand");
  const features = makeFeatures(ground, SEED);
  tell("Making the map");
  const made = await makeMap({
    elevation: elevationGrid(ground.grid, "sample-maps"),
    features: roleFeatures(ground, features),
    interval: { value: 10, unit: "m" },
    // The sheet's own streams bear names and run into its lake; its heights stand on summits and where ways meet.
    derive: { streams: false, spotHeights: false },
    about: {
      title: `${RESERVE} (invented)`,
      id: MAP_ID,
      source: "Invented terrain made by a seeded script",
      date: "2026-11-25",
      attribution:
        "Uldermoor Reserve is an invented place. Made by the script in sample-maps; its position on earth is borrowed from the open sea.",
      datum: "Invented: metres above an invented sea",
      invented: true,
    },
  });
  return {
    archive: made.archive,
    terrain: made.terrain,
    walk: formatWalk(practiceWalk(features, MAP_ID)),
    report: made.report,
  };
}
