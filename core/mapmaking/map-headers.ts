/** What the two archives of a map say of themselves. */
import type { LegwrightMetadata } from "../map/metadata.ts";
import { CONTOUR_LABELS } from "./contour-tiles.ts";
import { DATA_EDGE } from "./data-edge.ts";
import type { Placement } from "./elevation/grid-placement.ts";
import type { FeatureStore } from "./feature-store.ts";
import type { HeightSource } from "./height-source.ts";
import type { Interval } from "./interval.ts";
import {
  bindings,
  contourFields,
  extraLayers,
  gridMember,
  madeId,
  middleOf,
  vectorLayers,
} from "./map-metadata.ts";
import type { AboutMap, Zooms } from "./map-request.ts";
import type { ArchiveHeader } from "./pmtiles-writer.ts";
import type { TerrainPlan } from "./terrain-zoom.ts";
import { FILLED } from "./tile-feature.ts";

export interface Described {
  readonly about: AboutMap;
  readonly source: HeightSource;
  readonly placement: Placement;
  readonly interval: Interval;
  readonly zooms: Zooms;
  readonly layers: FeatureStore["layers"];
  readonly hasContours: boolean;
  readonly filledShare: number;
  readonly plan: TerrainPlan;
}

export function archiveHeaders(map: Described): {
  readonly archive: ArchiveHeader;
  readonly terrain: ArchiveHeader;
} {
  const { about, source, placement, interval, zooms, hasContours, filledShare, plan } = map;
  const { title, source: from, date, attribution, datum, invented } = about;
  const { bounds, cellM } = placement;
  const hasFilled = map.layers.has(FILLED);
  const layers = vectorLayers(map.layers, hasContours ? contourFields() : null);
  const id = about.id ?? madeId([title, from, date, bounds.join(), interval.value, interval.unit].join("|"));
  const legwright: LegwrightMetadata = {
    version: 1,
    id,
    title,
    roles: bindings(layers, interval.unit),
    interval: { value: interval.value, unit: interval.unit },
    source: from,
    date,
    attribution,
    datum,
    invented,
    elevationCellM: cellM,
    ...(filledShare > 0 && { filledShare }),
    dataEdge: DATA_EDGE,
    ...(hasFilled && { filled: FILLED }),
    ...(hasContours && { contourLabels: CONTOUR_LABELS }),
  };
  const credit = { attribution: attribution ?? "", type: "baselayer" };
  return {
    archive: {
      bounds,
      centre: middleOf(bounds, zooms.max),
      metadata: {
        name: title,
        description: `${invented ? "An invented place. " : ""}Topographic map with contours every ${interval.value} ${interval.unit}.`,
        ...credit,
        vector_layers: [...layers, ...extraLayers(hasContours, hasFilled)].map((layer) => ({
          ...layer,
          minzoom: zooms.min,
          maxzoom: zooms.max,
        })),
        legwright,
      },
    },
    terrain: {
      bounds,
      metadata: {
        name: `${title}: heights`,
        description: "Heights above the map's datum as terrarium pictures; black stands for no height.",
        ...credit,
        encoding: "terrarium",
        legwright: {
          version: 1,
          id,
          encoding: "terrarium",
          tileSize: 512,
          quantumM: plan.quantumM,
          elevationCellM: cellM,
          datum,
          invented,
          // Told only where pixels are fine enough to work out the model's own surface from them.
          ...(plan.exact && { grid: gridMember(source) }),
        },
      },
    },
  };
}
