/** A leg table of a walk drawn for tests. */
import type { LegTable } from "../../../../core/legs/table/leg-table.ts";
import { DEFAULT_LEG_SETTINGS, type LegSettings } from "../../../../core/legs/leg-settings.ts";
import { walkFigures } from "../../../../core/legs/walk-figures.ts";
import type { MapInfo } from "../../../../core/map/metadata.ts";
import { drawn, ground, hills, place } from "./line-map.ts";

const LINES = [
  drawn(
    "stream",
    [
      [-100, -30],
      [700, -40],
      [1400, -300],
    ],
    "Fern Beck",
  ),
  drawn("wall", [
    [1000, -20],
    [980, 900],
  ]),
  drawn(
    "road",
    [
      [-200, 1100],
      [1800, 1080],
    ],
    "Moor Road",
  ),
  drawn("path", [
    [400, -200],
    [450, 600],
  ]),
  drawn(
    "woodEdge",
    [
      [200, 300],
      [700, 300],
      [700, 700],
      [200, 700],
      [200, 300],
    ],
    "High Wood",
  ),
];

export async function sampleTable(
  change: Partial<LegTable> & {
    readonly legs?: number;
    readonly labels?: readonly string[];
    readonly info?: Partial<MapInfo>;
    readonly noMap?: boolean;
    readonly given?: Partial<LegSettings>;
  } = {},
): Promise<LegTable> {
  const { legs = 4, labels = [], info = {}, noMap = false, given = {}, ...rest } = change;
  const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15", ...given };
  const corners = [place(0, 0), place(1000, 0), place(1000, 800), place(0, 800), place(-500, 300)] as const;
  const points = Array.from({ length: legs + 1 }, (_, i) => ({
    label: labels[i] ?? String.fromCharCode(65 + (i % 26)),
    lonLat: corners[i % corners.length] ?? corners[0],
  }));
  const over = noMap
    ? null
    : ground(
        LINES,
        hills((e, n) => 300 + 60 * Math.sin(e / 400) + n / 20),
        { title: "Practice ground", source: "Drawn for a test", ...info },
      );
  return {
    title: "A practice walk",
    date: settings.date,
    points,
    figures: await walkFigures(points, over, settings),
    map: over?.map.info ?? null,
    settings,
    ...rest,
  };
}
