/**
 * What a leg costs on an archive, and on one 50 times larger that has the same tiles where the leg is: all figures of
 * legs of 2 km, on the processor, garbage collection included. "warm": the legs again on a map in use; "cold": the first
 * leg after opening. The two archives take turns, so that whatever else the machine does falls on both.
 */
import { bench, describe } from "vitest";
import { bytesSource } from "../../core/map/source.ts";
import { type Ground, openGround } from "../../core/terrain/ground.ts";
import type { Bbox } from "../../core/units/position.ts";
import { denseArchives } from "./support/dense-map.ts";
import { largerArchive } from "./support/larger-archive.ts";
import { randomLegs, timeWhole } from "./support/leg-timing.ts";

const TIMES = 50;
const TOWN: Bbox = [20.42, -34.05, 20.49, -34.0];
const COLD = 25;

interface Both {
  readonly archive: Uint8Array;
  readonly terrain: Uint8Array;
}
const small: Both = await denseArchives(10);
const large: Both = {
  archive: await largerArchive(small.archive, TIMES),
  terrain: await largerArchive(small.terrain, TIMES),
};
const open = ({ archive, terrain }: Both): Promise<Ground> =>
  openGround(bytesSource("bench.pmtiles", archive), bytesSource("bench.terrain.pmtiles", terrain));
const legs = randomLegs(TOWN, 60, 2000, 5);

const at = (times: readonly number[], share: number): number =>
  times.toSorted((a, b) => a - b)[Math.min(times.length - 1, Math.floor(share * times.length))] ?? NaN;
const mean = (times: readonly number[]): number => times.reduce((sum, t) => sum + t, 0) / times.length;
function say(what: string, a: readonly number[], b: readonly number[]): void {
  const row = (f: (t: readonly number[]) => number): string =>
    `${f(a).toFixed(2)} → ${f(b).toFixed(2)} ms, × ${(f(b) / f(a)).toFixed(2)}`;
  console.log(`${what}: p50 ${row((t) => at(t, 0.5))}; p95 ${row((t) => at(t, 0.95))}; mean ${row(mean)}`);
}

const mb = (bytes: Both): string => ((bytes.archive.length + bytes.terrain.length) / 2 ** 20).toFixed(1);
console.log(`archives ${mb(small)} MB and ${mb(large)} MB`);
const grounds = [await open(small), await open(large)] as const;
const warm: [number[], number[]] = [[], []];
for (let round = 0; round < 4; round++)
  for (const leg of legs)
    for (const k of round % 2 ? ([1, 0] as const) : ([0, 1] as const)) {
      const { processor } = await timeWhole(grounds[k], leg);
      if (round > 0) warm[k].push(processor as number);
    }
say("warm", ...warm);

const cold: [number[], number[]] = [[], []];
const opening: [number[], number[]] = [[], []];
for (let i = 0; i < COLD; i++)
  for (const k of i % 2 ? ([1, 0] as const) : ([0, 1] as const)) {
    const busy = process.cpuUsage();
    const ground = await open(k ? large : small);
    const { user, system } = process.cpuUsage(busy);
    opening[k].push((user + system) / 1000);
    const leg = legs[i % legs.length];
    if (leg) cold[k].push((await timeWhole(ground, leg)).processor as number);
  }
say("opening", ...opening);
say("cold", ...cold);

describe("one leg of 2 km", () => {
  let i = 0;
  const next = (): (typeof legs)[number] => legs[i++ % legs.length] as (typeof legs)[number];
  bench("archive", async () => void (await timeWhole(grounds[0], next())), { iterations: 50, time: 500 });
  bench("50 times larger", async () => void (await timeWhole(grounds[1], next())), {
    iterations: 50,
    time: 500,
  });
});
