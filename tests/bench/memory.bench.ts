/**
 * Memory over 10,000 random legs of 2 km all over a map larger than the cache: what the process holds after collecting,
 * every 1000 legs. It must level off: with cached tiles under their limit, and with stitched sets and surfaces under
 * theirs.
 */
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { bench, describe } from "vitest";
import { crossingsOf } from "../../core/map/crossings.ts";
import { legFrame } from "../../core/geodesy/leg-frame.ts";
import { bytesSource } from "../../core/map/source.ts";
import { openGround, prepareGround } from "../../core/terrain/ground.ts";
import { profileOf } from "../../core/terrain/leg-profile.ts";
import { growBbox, bboxOf, type Bbox } from "../../core/units/position.ts";
import { denseArchives } from "./support/dense-map.ts";
import { largerArchive } from "./support/larger-archive.ts";
import { randomLegs } from "./support/leg-timing.ts";

const LEGS = 10_000;
const EVERY = 1000;
const TERRAIN_EVERY = 10;

setFlagsFromString("--expose-gc");
const gc = runInNewContext("gc") as () => void;
function collect(): void {
  gc();
  gc();
}

const small = await denseArchives(10);
const vectors = await largerArchive(small.archive, 50);
const terrain = await largerArchive(small.terrain, 50);
const ground = await openGround(
  bytesSource("big.pmtiles", vectors),
  bytesSource("big.terrain.pmtiles", terrain),
);
const [west, south, east, north] = ground.map.info.bounds;
// All over the copies, whose tiles are as dense as the town's.
const box: Bbox = [west + 0.02, south + 0.02, east - 0.02, north - 0.02];

collect();
const before = process.memoryUsage();
const mb = (bytes: number): string => `${(bytes / 2 ** 20).toFixed(0)} MB`;
console.log(
  `before: heap ${mb(before.heapUsed)}, buffers ${mb(before.arrayBuffers)}, whole process ${mb(before.rss)}`,
);
let crossed = 0;
let most = 0;
for (const [i, leg] of randomLegs(box, LEGS, 2000, 9).entries()) {
  const frame = legFrame(leg.from, leg.to);
  const around = growBbox(bboxOf([leg.from, leg.to]) as Bbox, 300);
  await ground.map.prepare(around);
  crossed += crossingsOf(frame, ground.map.lines(around)).length;
  // Terrain pictures take the longest to decode; their cache is the same code.
  if (i % TERRAIN_EVERY === 0) {
    await prepareGround(ground, around);
    profileOf(ground, frame);
  }
  if ((i + 1) % EVERY === 0) {
    collect();
    const now = process.memoryUsage();
    const held = now.heapUsed + now.arrayBuffers - before.heapUsed - before.arrayBuffers;
    most = Math.max(most, held);
    console.log(
      `${i + 1} legs, ${crossed} crossings: ${mb(held)} more than before, whole process ${mb(now.rss)}`,
    );
  }
}
console.log(
  `most ${mb(most)} held; limits: 96 MB of map tiles, 64 MB of terrain tiles, 48 MB of stitched sets`,
);

describe("memory", () => {
  bench("one more leg", async () => {
    await prepareGround(
      ground,
      box.map((v, i) => (i < 2 ? v : (box[i - 2] as number) + 0.01)) as unknown as Bbox,
    );
  });
});
