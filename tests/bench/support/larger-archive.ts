/** An archive many times larger: copies of its tiles beside it, each with bytes of its own. */
import { PMTiles, TileType } from "pmtiles";
import { tilesMeeting } from "../../../core/map/tile-grid.ts";
import { pmtilesWriter } from "../../../core/mapmaking/pmtiles-writer.ts";
import type { Bbox } from "../../../core/units/position.ts";

/** @param times how many times as many tiles it has; copies lie to the east and to the south */
export async function largerArchive(bytes: Uint8Array, times: number): Promise<Uint8Array> {
  const archive = new PMTiles({
    getKey: () => "small",
    getBytes: async (offset, length) => ({
      data: new Uint8Array(bytes.subarray(offset, offset + length)).buffer,
    }),
  });
  const header = await archive.getHeader();
  const isPicture = header.tileType === TileType.Png;
  const writer = pmtilesWriter(isPicture ? "png" : "mvt");
  const box: Bbox = [header.minLon, header.minLat, header.maxLon, header.maxLat];
  const across = Math.ceil(Math.sqrt(times));
  for (let z = header.minZoom; z <= header.maxZoom; z++) {
    const { x0, y0, x1, y1 } = tilesMeeting(box, z);
    for (let x = x0; x <= x1; x++)
      for (let y = y0; y <= y1; y++) {
        const tile = await archive.getZxy(z, x, y);
        if (!tile) continue;
        for (let copy = 0; copy < times; copy++) {
          const own = new Uint8Array(tile.data);
          writer.add(
            z,
            x + (copy % across) * (x1 - x0 + 1),
            y + Math.floor(copy / across) * (y1 - y0 + 1),
            copy === 0 ? own : marked(own, isPicture, copy),
          );
        }
      }
  }
  const metadata = (await archive.getMetadata()) as Record<string, unknown>;
  const [width, height] = [box[2] - box[0], box[3] - box[1]];
  const bounds: Bbox = [box[0], box[1] - height * across, box[2] + width * across, box[3]];
  return Buffer.concat(writer.finish({ bounds, metadata }).pieces);
}

/** The same tile in other bytes: an empty layer more, or a few bytes behind the picture's end. */
function marked(tile: Uint8Array, isPicture: boolean, copy: number): Uint8Array {
  const name = new TextEncoder().encode(`copy${String(copy).padStart(6, "0")}`);
  const layer = Uint8Array.of(0x1a, name.length + 4, 0x0a, name.length, ...name, 0x78, 2);
  return Buffer.concat([tile, isPicture ? name : layer]);
}
