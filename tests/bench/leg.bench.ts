/**
 * Everything about one leg of 2 km: 200 random legs on each map, with profile, climb, crossings, handrails, backstop,
 * landforms, sight and all else `legFigures` gives.
 * "cold": on a map just opened for each leg, tiles read and decoded on the way; only the program itself is warm.
 * "first": the same legs' figures alone, their tiles just decoded but nothing worked out on this ground before.
 * "warm": tiles decoded before and other legs worked out around, this leg never; no answer comes from the cache of legs.
 * Parts are timed in runs of their own, each asked for by itself, so they do not add up to the whole exactly.
 * Aim: 95 of 100 legs under 8 ms warm and 60 ms cold on the dense map with contours every 10 m.
 */
import { cpus, loadavg } from "node:os";
import { bench, describe } from "vitest";
import { denseBench, realBench, sampleBench } from "./support/bench-grounds.ts";
import { randomLegs, spreadOf, timeParts, timeWhole, type Timing, wholeBox } from "./support/leg-timing.ts";

const LEGS = 200;
const LENGTH_M = 2000;

const grounds = [await denseBench(10), await denseBench(5), await sampleBench(), await realBench()].filter(
  (ground) => ground !== null,
);

function print(what: string, timings: readonly Timing[]): void {
  console.log([`  ${what}`, ...spreadOf(timings)].join("\n    "));
}

console.log(
  `${cpus()[0]?.model ?? "?"} × ${cpus().length}, Node ${process.version}, load ${loadavg()[0]?.toFixed(1)}`,
);
for (const { title, box, open } of grounds) {
  const legs = randomLegs(box, LEGS, LENGTH_M, 7);
  console.log(`${title}: ${legs.length} legs of ${LENGTH_M} m`);
  const cold: Timing[] = [];
  for (const leg of legs) cold.push(await timeWhole(await open(), leg));
  print("cold", cold);
  print(
    "first",
    cold.map(({ figures }) => ({ figures: figures as number })),
  );
  const parts: Timing[] = [];
  for (const leg of legs) parts.push(await timeParts(await open(), leg));
  print("cold, parts", parts);

  const ground = await open();
  const others = [1, 2].map((seed) => randomLegs(box, LEGS, LENGTH_M, seed));
  for (const leg of [...legs, ...others.flat()]) {
    await ground.map.prepare(wholeBox(leg));
    await ground.elevation?.prepare(wholeBox(leg));
  }
  const [warm, warmParts]: [Timing[], Timing[]] = [[], []];
  for (const leg of others[0] ?? []) await timeWhole(ground, leg);
  for (const leg of legs) warm.push(await timeWhole(ground, leg));
  print("warm", warm);
  for (const leg of others[1] ?? []) warmParts.push(await timeParts(ground, leg));
  print("warm, parts", warmParts);
}

describe("a leg of 2 km with everything", () => {
  for (const { title, box, open } of grounds) {
    const legs = randomLegs(box, 2000, LENGTH_M, 11);
    const ground = open();
    let i = 0;
    bench(title, async () => void (await timeWhole(await ground, legs[i++ % legs.length]!)), {
      iterations: LEGS,
      time: 1000,
    });
  }
});
