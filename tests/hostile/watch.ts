/**
 * Runs cases in a thread and watches over it from outside: one that takes more than two seconds of the processor, or far
 * longer of the clock, is ended and noted, as is one that ends the thread; the rest goes on after it.
 */
import { Worker } from "node:worker_threads";

export interface WorkOrder {
  readonly seed: number;
  readonly from: number;
  readonly to: number;
  readonly only: string | null;
  readonly at: SharedArrayBuffer;
}

export interface Told {
  readonly n: number;
  readonly parser: string;
  readonly seed: string;
  readonly taken: boolean;
  readonly wrong: string | null;
  readonly ms: number;
}

export interface Watched {
  readonly cases: number;
  readonly findings: readonly { readonly n: number; readonly parser: string; readonly wrong: string }[];
  /** Of each reader: taken and refused. */
  readonly parsers: Readonly<Record<string, readonly [taken: number, refused: number]>>;
  readonly slowest: { readonly n: number; readonly parser: string; readonly ms: number };
  readonly mostMemoryMb: number;
}

const MOST_CPU_MS = 2000;
/** The machine may be busy with other things; one that waits for ever uses no processor. */
const MOST_CLOCK_MS = 30_000;
const MOST_HEAP_MB = 700;
const MOST_FINDINGS = 200;

export async function watch(order: Omit<WorkOrder, "at">, untilMs = Infinity): Promise<Watched> {
  const findings: { n: number; parser: string; wrong: string }[] = [];
  const parsers: Record<string, [number, number]> = {};
  let slowest = { n: -1, parser: "", ms: 0 };
  let cases = 0;
  let last = order.from - 1;
  let mostMemoryMb = 0;
  const takeIn = ({ n, parser, seed, taken, wrong, ms }: Told): void => {
    cases++;
    last = n;
    (parsers[parser] ??= [0, 0])[taken ? 0 : 1]++;
    if (ms > slowest.ms) slowest = { n, parser, ms };
    if (wrong !== null) findings.push({ n, parser: `${parser}, ${seed}`, wrong: wrong.slice(0, 1500) });
  };
  for (let from = order.from; from < order.to && findings.length < MOST_FINDINGS;) {
    const at = new SharedArrayBuffer(8);
    const now = new Float64Array(at).fill(-1);
    const worker = new Worker(new URL("./worker.mjs", import.meta.url), {
      workerData: { ...order, from, at } satisfies WorkOrder,
      resourceLimits: { maxOldGenerationSizeMb: MOST_HEAP_MB },
    });
    let why: string | null = null;
    let late = false;
    let [seen, cpu, clock] = [-1, process.cpuUsage(), performance.now()];
    const timer = setInterval(() => {
      mostMemoryMb = Math.max(mostMemoryMb, process.memoryUsage.rss() / 2 ** 20);
      if (performance.now() > untilMs) {
        late = true;
        void worker.terminate();
      }
      if (now[0] !== seen)
        return void ([seen, cpu, clock] = [now[0]!, process.cpuUsage(), performance.now()]);
      if (seen < 0) return;
      const { user, system } = process.cpuUsage(cpu);
      if ((user + system) / 1000 <= MOST_CPU_MS && performance.now() - clock <= MOST_CLOCK_MS) return;
      why = "a hang";
      void worker.terminate();
    }, 50);
    worker.on("message", takeIn);
    worker.on("error", (error) => (why ??= `the thread ended: ${error.stack ?? error.message}`));
    await new Promise((resolve) => worker.once("exit", resolve));
    clearInterval(timer);
    if (late || (why === null && last === order.to - 1)) break;
    findings.push({ n: now[0]!, parser: "?", wrong: why ?? "the thread ended by itself" });
    from = Math.max(last, now[0]!) + 1;
  }
  return { cases, findings, parsers, slowest, mostMemoryMb: Math.round(mostMemoryMb) };
}
