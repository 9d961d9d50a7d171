/** Lets MapLibre read tiles straight from archives the host serves. */
import { addProtocol } from "maplibre-gl";
import { PMTiles, Protocol, SharedPromiseCache, type Source } from "pmtiles";
import { Fault } from "../../core/fault.ts";
import { unpack } from "../../core/map/unpack.ts";
import { GROUND_DECODERS } from "../archive/ground-decoders.ts";
import { rangeSource } from "../archive/range-source.ts";

const protocol = new Protocol({ errorOnMissingTile: false });
addProtocol("pmtiles", protocol.tile);

/** Messages of faults of archives that were said already. */
export const saidFaults = new Set<string>();

let lastKey = 0;

export interface TileAddress {
  /** For a style's source. */
  readonly tiles: string;
  readonly maxZoom: number;
}

/** Told of what is wrong with an open archive: its file is no longer where it was, or could not be read. */
export interface ArchiveTrouble {
  readonly gone: (fileName: string) => void;
  readonly failed: (fault: Fault) => void;
}

/**
 * @param url where the host serves the archive's bytes
 * @param name its file name, for messages
 * @throws Fault when the archive's header cannot be read
 */
export async function tileAddress(url: string, name: string, trouble: ArchiveTrouble): Promise<TileAddress> {
  // A key of its own each time: a file replaced under the same name must not meet the old one's cached directory.
  const key = `archive-${++lastKey}`;
  const bytes = rangeSource(url, name, trouble.gone);
  const source: Source = {
    getKey: () => key,
    async getBytes(offset, length, signal) {
      const read = await bytes.read(offset, length, signal).catch((thrown: unknown) => {
        // Said here with its place and remedy: what comes back from the map is text alone.
        if (thrown instanceof Fault && thrown.code !== "cancelled") {
          saidFaults.add(thrown.message);
          trouble.failed(thrown);
        }
        throw thrown;
      });
      return { data: read.slice().buffer };
    },
  };
  const unpacked = (data: ArrayBuffer, method: Parameters<typeof unpack>[1]): Promise<ArrayBuffer> =>
    unpack(data, method, GROUND_DECODERS);
  const archive = new PMTiles(source, new SharedPromiseCache(100, true, unpacked), unpacked);
  const { maxZoom } = await archive.getHeader();
  protocol.add(archive);
  return { tiles: `pmtiles://${key}/{z}/{x}/{y}`, maxZoom };
}
