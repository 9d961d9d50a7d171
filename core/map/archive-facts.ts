/** What is in an archive's layers, for a person to see which plays which role; and how to know the archive again. */
import { Fault } from "../fault.ts";
import { type Archive, openArchive } from "./archive.ts";
import type { LayerFields } from "./guess-roles.ts";
import { peekLayers } from "./layer-fields.ts";
import { listedLayers, mapInfo, mergeLayers } from "./map-info.ts";
import type { MapInfo } from "./metadata.ts";
import { picturesIn } from "./read-info.ts";
import type { ByteSource } from "./source.ts";
import type { ArchiveDecoders } from "./unpack.ts";

export interface SeenValue {
  readonly value: string;
  /** Features that had it, among those looked at. */
  readonly features: number;
}

export interface SeenField {
  readonly name: string;
  /** The most frequent ones first; none where no tile looked at had the field. */
  readonly values: readonly SeenValue[];
}

export interface SeenLayer {
  readonly name: string;
  /** In the tiles looked at: some about the middle of the map, at its finest zoom. */
  readonly features: number;
  readonly fields: readonly SeenField[];
}

export interface ArchiveFacts {
  readonly id: string;
  /** The same for the same archive, wherever it lies; another for one made anew. */
  readonly fingerprint: string;
  readonly layers: readonly SeenLayer[];
  /** As the archive says them, or as they are guessed. */
  readonly roles: MapInfo["roles"];
  readonly rolesFrom: "metadata" | "guess";
}

const VALUES_SHOWN = 30;

/**
 * @throws Fault "bad-archive" when it is damaged or holds no vector tiles; what the source throws
 */
export async function archiveFacts(
  source: ByteSource,
  decoders: ArchiveDecoders = {},
): Promise<ArchiveFacts> {
  const archive = await openArchive(source, decoders);
  if (picturesIn(archive))
    throw new Fault("bad-archive", "The archive holds pictures: it has no layers.", source.key);
  const seen = await peekLayers(archive);
  const { id, roles, rolesFrom } = mapInfo(archive, seen);
  return {
    id,
    fingerprint: await fingerprintOf(source, archive),
    layers: mergeLayers(listedLayers(archive.metadata), seen).map(seenLayer),
    roles,
    rolesFrom: rolesFrom === "metadata" ? "metadata" : "guess",
  };
}

function seenLayer({ name, fields, features, seen }: LayerFields): SeenLayer {
  return {
    name,
    features: features ?? 0,
    fields: fields.map((field) => ({
      name: field,
      values: Array.from(seen?.get(field) ?? [], ([value, count]) => ({ value, features: count }))
        .sort((a, b) => b.features - a.features)
        .slice(0, VALUES_SHOWN),
    })),
  };
}

/** FNV-1a, twice, over header and root directory: they hold the sizes of all tiles, or of the leaves that do. */
async function fingerprintOf(source: ByteSource, { header, metadata }: Archive): Promise<string> {
  const start = await source.read(0, header.rootDirectoryOffset + header.rootDirectoryLength);
  const text = new TextEncoder().encode(JSON.stringify(metadata["name"] ?? null));
  let a = 0x811c9dc5;
  let b = 0x01234567;
  for (const bytes of [start, text])
    for (const byte of bytes) {
      a = Math.imul(a ^ byte, 0x01000193);
      b = Math.imul(b ^ byte, 0x85ebca6b);
    }
  return [a, b].map((n) => (n >>> 0).toString(16).padStart(8, "0")).join("");
}
