import { resolve } from "node:path";
import { Fault } from "../../../core/fault.ts";
import { openArchive } from "../../../core/map/archive.ts";
import { archiveFacts } from "../../../core/map/archive-facts.ts";
import { archiveTiles } from "../../../core/map/archive-tiles.ts";
import type { LegwrightMetadata } from "../../../core/map/metadata.ts";
import { picturesIn, readInfo } from "../../../core/map/read-info.ts";
import { roleProblems, type Roles } from "../../../core/map/set-roles.ts";
import { openFileSource } from "../file-source.ts";
import { GROUND_DECODERS } from "../ground-decoders.ts";
import { type Converted, type ConvertOptions, writeArchive } from "./import-archive.ts";

const MOST_GROWTH = 4;
const ROOM_BYTES = 16 * 2 ** 20;

export interface RewriteOptions extends ConvertOptions {
  /** Written into the metadata, so that the archive says of itself what its layers hold. */
  readonly roles?: Roles | undefined;
}

/**
 * A PMTiles archive written anew: clustered, each tile once, gzipped; with our metadata when roles are given.
 * @throws Fault "bad-archive", "bad-tile" when it is damaged; "bad-argument" for roles that cannot be; "cancelled" …
 */
export async function rewriteArchive(path: string, out: string, options: RewriteOptions): Promise<Converted> {
  if (resolve(path) === resolve(out))
    throw new Fault("bad-argument", "An archive cannot be written over itself.", null, "Name another file.");
  const source = await openFileSource(path);
  try {
    const archive = await openArchive(source, GROUND_DECODERS);
    const pictures = picturesIn(archive);
    const metadata: Record<string, unknown> = { ...archive.metadata };
    if (options.title !== undefined) metadata["name"] = options.title;
    const { minZoom } = archive.header;
    if (options.roles) {
      const { id, fingerprint: _fingerprint, layers } = await archiveFacts(source, GROUND_DECODERS);
      const [problem] = roleProblems(options.roles, layers);
      if (problem)
        throw new Fault("bad-argument", problem.what, `role ${problem.role}`, "Put the roles right.");
      const info = await readInfo(source, GROUND_DECODERS);
      metadata["legwright"] = {
        version: 1,
        id,
        title: options.title ?? info.title,
        roles: options.roles,
        interval: info.interval,
        source: info.source,
        date: info.date,
        attribution: info.attribution,
        datum: info.datum,
        invented: info.invented,
        elevationCellM: info.elevationCellM,
      } satisfies LegwrightMetadata;
    } else if (options.title !== undefined && isRecord(metadata["legwright"]))
      metadata["legwright"] = { ...metadata["legwright"], title: options.title };
    const { header } = archive;
    const bounds = (await readInfo(source, GROUND_DECODERS)).bounds;
    return await writeArchive(
      {
        name: source.key,
        type: pictures ?? "mvt",
        tiles: archiveTiles(source, archive, GROUND_DECODERS),
        tilesAbout: header.numAddressedTiles || null,
        mostBytes: source.sizeBytes * MOST_GROWTH + ROOM_BYTES,
        headerFor: () => ({
          bounds,
          centre: {
            lonLat: [header.centerLon, header.centerLat],
            zoom: Math.max(minZoom, Math.min(header.maxZoom, header.centerZoom)),
          },
          metadata,
        }),
      },
      out,
      options,
    );
  } finally {
    await source.close();
  }
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);
