/** The three kinds of objects of OpenStreetMap, as both of its formats give them. */
import type { Tags } from "./raw-feature.ts";

/** What a reader of OpenStreetMap data wants to be told of; left out, the kind is passed over. */
export interface OsmHandlers {
  readonly node?: (id: number, lon: number, lat: number, tags: Tags | null) => void;
  /** `refs` holds ids of nodes; it is used again for the next way. */
  readonly way?: (id: number, refs: readonly number[], tags: Tags | null) => void;
  readonly relation?: (id: number, members: readonly OsmMember[], tags: Tags | null) => void;
}
export interface OsmMember {
  readonly type: "node" | "way" | "relation";
  readonly id: number;
  readonly role: string;
}
