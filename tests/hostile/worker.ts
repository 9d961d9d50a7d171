/** Reads cases one after another and says before each which one it is at, where the watch can see it. */
import { parentPort, workerData } from "node:worker_threads";
import { caseOf, judge } from "./cases.ts";
import type { Told, WorkOrder } from "./watch.ts";

const { seed, from, to, only, at } = workerData as WorkOrder;
const now = new Float64Array(at);
const tell = (told: Told): void => parentPort?.postMessage(told, []);

for (let n = from; n < to; n++) {
  // What is being made is not yet read.
  now[0] = -1;
  const one = caseOf(seed, n, only);
  now[0] = n;
  const begun = performance.now();
  const { taken, wrong } = await judge(one);
  tell({ n, parser: one.parser.name, seed: one.seed.name, taken, wrong, ms: performance.now() - begun });
}
