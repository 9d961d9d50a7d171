/** Lets MapLibre read tiles straight from archives the host serves. */
import { addProtocol } from "maplibre-gl";
import { PMTiles, Protocol, SharedPromiseCache, type Source } from "pmtiles";
import { unpack } from "../../core/map/unpack.ts";
import { GROUND_DECODERS } from "../archive/ground-decoders.ts";
import { rangeSource } from "../archive/range-source.ts";

const protocol = new Protocol({ errorOnMissingTile: false });
addProtocol("pmtiles", protocol.tile);

let lastKey = 0;

export interface TileAddress {
  /** For a style's source. */
  readonly tiles: string;
  readonly maxZoom: number;
}

/**
 * @param url where the host serves the archive's bytes
 * @param name its file name, for messages
 * @throws Fault when the archive's header cannot be read
 */
export async function tileAddress(url: string, name: string): Promise<TileAddress> {
  // A key of its own each time: a file replaced under the same name must not meet the old one's cached directory.
  const key = `archive-${++lastKey}`;
  const bytes = rangeSource(url, name);
  const source: Source = {
    getKey: () => key,
    async getBytes(offset, length, signal) {
      const read = await bytes.read(offset, length, signal);
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
