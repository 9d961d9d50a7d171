/** What an explanation of a figure may draw on, besides the leg itself. */
import type { MapInfo } from "../../map/metadata.ts";
import { formatBearing, formatEastWest, formatHeight, type LengthUnit } from "../../units/format.ts";
import { type Compass, type North, USUAL_COMPASS } from "../norths/bearing-to-set.ts";
import type { LegFigures, WalkFigures } from "../figures.ts";
import type { LegSettings } from "../leg-settings.ts";

/** A `LegTable` is one. */
export interface HowAbout {
  readonly figures: WalkFigures;
  readonly settings: LegSettings;
  readonly map: MapInfo | null;
  /** Default magnetic. */
  readonly north?: North;
  /** Default marked in whole degrees and not adjustable. */
  readonly compass?: Compass;
  /** Default metric. */
  readonly lengthUnit?: LengthUnit;
}

export const northAsked = ({ north }: Pick<HowAbout, "north">): North => north ?? "magnetic";
export const compassOf = ({ compass }: Pick<HowAbout, "compass">): Compass => compass ?? USUAL_COMPASS;
export const unitOf = ({ lengthUnit }: Pick<HowAbout, "lengthUnit">): LengthUnit => lengthUnit ?? "metric";

/** A bearing to a hundredth of a degree, for sums that are to come out. */
export const exactBearing = (degrees: number): string => formatBearing(degrees, { graduationDeg: 0.01 });
export const exactEastWest = (degrees: number): string => formatEastWest(degrees, 2);

/** Where the heights come from and how good they are, or why a figure that needs them is absent. */
export function heightsSentence({ profile, notes }: LegFigures, unit: LengthUnit): string {
  if (profile.from === null || profile.elevationM.some((h) => Number.isNaN(h)))
    return notes.find((note) => note.includes("are left out")) ?? "There are no heights here.";
  const source = profile.from === "terrain" ? "the map’s terrain model" : "the map’s contours alone";
  const error = profile.errorM === null ? "" : `, each good to about ${formatHeight(profile.errorM, unit)}`;
  return `Heights come from ${source}, ${profile.distanceM.length} of them along this leg${error}.`;
}
