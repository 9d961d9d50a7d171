/** Words of the table of layers and roles. */
import type { Role } from "../../core/map/kinds.ts";
import type { RolesFrom } from "../../core/map/metadata.ts";

const from: Record<RolesFrom, string> = {
  metadata: "The map itself says what its layers hold.",
  guess: "What the layers hold was guessed from their names and fields. Put right what is wrong.",
  user: "What the layers hold was set by hand.",
};

const roles: Record<Role, string> = {
  contour: "contours",
  stream: "streams and rivers",
  water: "lakes and ponds",
  path: "paths",
  road: "roads",
  rail: "railways",
  wall: "walls",
  fence: "fences",
  powerLine: "power lines",
  cliff: "cliffs",
  wetland: "wetland",
  wood: "woods",
  building: "buildings",
  boundary: "boundaries",
  restricted: "restricted areas",
  spotHeight: "spot heights",
  peak: "summits",
  name: "names",
  ridge: "ridges",
  valley: "valleys",
};

export const rolesWords = {
  command: "Layers of this map",
  looking: "Looking into the map …",
  from,
  roles,
  layer: "Layer",
  seen: "Seen in it",
  role: "Is used as",
  notUsed: "not used",
  only: "Only where",
  fields: "Fields",
  name: "Name",
  elevation: "Elevation",
  unit: "Unit",
  index: "Index contour",
  none: "none",
  all: "everything",
  values: "is one of",
  features: (count: number) => (count === 1 ? "1 feature" : `${count} features`),
  noneSeen: "nothing in the tiles looked at",
  lookedAt: "Counted in some tiles about the middle of the map.",
  again: "Use once more",
  againFor: (layer: string) => `Use once more: the layer ${layer}`,
  of: (what: string, layer: string) => `${what}: ${layer}`,
  take: "Use these",
  back: "Back to the guess",
  backToMap: "Back to what the map says",
};
