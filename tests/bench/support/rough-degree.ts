/**
 * One-degree, one-arc-second models as large as anyone's. The ground is real: the 30 m model of tests/fixtures/elevation,
 * mirrored at its edges over and over, lowered to three tenths and laid over long waves, so that it is as rough as hills
 * of a thousand metres.
 */
import { writeFileSync } from "node:fs";
import { readModel } from "../../core/mapmaking/elevation-fixture.ts";

const SIDE = 3601;
const LOWERED = 0.3;

/** Big-endian 16-bit heights, as in .hgt files; `east` and `south` are whole degrees from the first corner. */
export async function writeDegree(path: string, east: number, south: number): Promise<void> {
  const { heights, columns, rows } = await readModel("bigtujunga-crop-srtm30m-epsg32611");
  const mirrored = (i: number, n: number): number => {
    const k = i % (2 * n - 2);
    return k < n ? k : 2 * n - 2 - k;
  };
  const bytes = Buffer.alloc(SIDE * SIDE * 2);
  for (let r = 0; r < SIDE; r++)
    for (let c = 0; c < SIDE; c++) {
      const [x, y] = [c + east * (SIDE - 1), r + south * (SIDE - 1)];
      const wave = 150 * Math.sin(x / 900) * Math.cos(y / 1100);
      const h = heights[mirrored(y, rows) * columns + mirrored(x, columns)]!;
      bytes.writeInt16BE(Math.round(LOWERED * h + wave), 2 * (r * SIDE + c));
    }
  writeFileSync(path, bytes);
}
