/**
 * The odds of a leg of 2 km: 10,000 walkers among 200 segments of lines, every line of use. "processor": time on the
 * processor, garbage collection included, which other work on the machine does not lengthen.
 */
import { cpus, loadavg } from "node:os";
import { bench, describe } from "vitest";
import type { OddsAids, OddsLine } from "../../core/legs/odds/scene.ts";
import { simulate } from "../../core/legs/odds/simulate.ts";
import { BY_MARKS, UNAIDED, USUAL_SPREAD } from "../../core/legs/odds/spread.ts";

const LENGTH_M = 2000;
/** A wriggling line across the leg in 20 segments of 50 m. */
const across = (s: number, key: number): OddsLine => ({
  st: Array.from({ length: 42 }, (_, i) => (i % 2 === 0 ? s + 15 * Math.sin(i * 1.7 + key) : (i - 21) * 25)),
  surely: 0.9,
  key,
});
const aids: OddsAids = {
  collecting: [200, 420, 610, 800, 1050, 1300, 1480, 1700].map((s, i) => across(s, i + 1)),
  rails: [
    {
      stretches: [Array.from({ length: 42 }, (_, i) => (i % 2 === 0 ? 300 + i * 12 : 30 + 8 * Math.sin(i)))],
      surely: 0.9,
      key: 50,
    },
  ],
  stop: [across(2080, 60)],
};
const cases = [
  ["along marks", BY_MARKS, aids],
  ["unaided", UNAIDED, aids],
  ["along marks, nothing on the ground", BY_MARKS, {}],
] as const;

const at = (sorted: readonly number[], share: number): string =>
  (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] as number).toFixed(1);
const spread = (times: number[]): string => {
  times.sort((a, b) => a - b);
  return `p50 ${at(times, 0.5)} ms, p95 ${at(times, 0.95)} ms`;
};

console.log(
  `${cpus()[0]?.model ?? "?"} × ${cpus().length}, Node ${process.version}, load ${loadavg()[0]?.toFixed(1)}`,
);
for (const [title, steering, these] of cases) {
  const [times, busy]: [number[], number[]] = [[], []];
  let find = 0;
  for (let seed = 0; seed < 120; seed++) {
    const cpu = process.cpuUsage();
    const start = performance.now();
    ({ find } = simulate({ lengthM: LENGTH_M }, these, { ...USUAL_SPREAD, steering }, { seed }));
    const took = performance.now() - start;
    const { user, system } = process.cpuUsage(cpu);
    // The first are the compiler's.
    if (seed >= 20) {
      times.push(took);
      busy.push((user + system) / 1000);
    }
  }
  console.log(`${title}: ${spread(times)} (processor ${spread(busy)}); found ${(100 * find).toFixed(1)} %`);
}

describe("10,000 walkers", () => {
  let seed = 1000;
  for (const [title, steering, these] of cases)
    bench(
      title,
      () => void simulate({ lengthM: LENGTH_M }, these, { ...USUAL_SPREAD, steering }, { seed: seed++ }),
      {
        time: 1000,
      },
    );
});
