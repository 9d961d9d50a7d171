/** Lines of the map one can tell that one stands at. */
import type { Kind } from "../../core/map/kinds.ts";

/** What one can be sure to stand at, most often met first; where maps part what a walker does not, both. */
export const STOOD_AT: readonly (readonly Kind[])[] = [
  ["stream", "river"],
  ["path", "road"],
  ["stream"],
  ["river"],
  ["path"],
  ["road"],
  ["wall"],
  ["fence"],
  ["woodEdge"],
  ["shore"],
  ["rail"],
  ["powerLine"],
  ["cliff"],
  ["wetland"],
  ["ridge"],
  ["valley"],
];
