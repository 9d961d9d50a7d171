/**
 * Damages input in a process of its own, and prints what came of it as JSON:
 *
 *   npx tsx tests/hostile/run.ts --from 0 --to 20000 [--seed 1] [--only GPX] [--seconds 240]
 *   npx tsx tests/hostile/run.ts --show 4711      reads one case here, and tells its name and bytes
 */
import { parseArgs } from "node:util";
import { caseOf, judge } from "./cases.ts";
import { watch } from "./watch.ts";

const text = { type: "string" } as const;
const { values } = parseArgs({
  options: { from: text, to: text, seed: text, only: text, seconds: text, show: text },
});
const seed = Number(values.seed ?? 20_261_127);
const only = values.only ?? null;
const say = (value: unknown): void => void process.stdout.write(`${JSON.stringify(value, null, 1)}\n`);

if (values.show !== undefined) {
  const one = caseOf(seed, Number(values.show), only);
  const begun = performance.now();
  const outcome = await judge(one);
  say({
    parser: one.parser.name,
    seed: one.seed.name,
    ...outcome,
    ms: performance.now() - begun,
    length: one.seed.bytes.length,
    text: new TextDecoder().decode(one.seed.bytes.subarray(0, 3000)),
  });
} else {
  const order = { seed, only, from: Number(values.from ?? 0), to: Number(values.to ?? 2000) };
  const until = values.seconds ? performance.now() + Number(values.seconds) * 1000 : Infinity;
  const watched = await watch(order, until);
  say({ ...watched, peakMb: Math.round(process.resourceUsage().maxRSS / 1024) });
  process.exitCode = watched.findings.length > 0 ? 1 : 0;
}
