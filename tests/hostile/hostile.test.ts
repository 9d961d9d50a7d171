/**
 * Damaged input over every reader: no crash, no hang, bounded memory, every refusal a Fault that names its place. A few
 * thousand cases here; LEGWRIGHT_MUTATIONS says how many (`npm run test:long`), LEGWRIGHT_CORPUS names a folder of further
 * good files. Each reader takes at least one good file first: a reader that refuses everything would prove nothing.
 */
import { execFile } from "node:child_process";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { judge } from "./cases.ts";
import { PARSERS } from "./parsers.ts";
import type { Watched } from "./watch.ts";

const CASES = Number(process.env["LEGWRIGHT_MUTATIONS"] ?? 4000);
/** So many at once, so that one run's memory and time are told. */
const PIECE = 20_000;
/** Loading everything, tests included, takes some 200 MB of it. */
const MOST_MB = 1000;

const program = fileURLToPath(new URL("./run.ts", import.meta.url));

function run(from: number, to: number): Promise<Watched & { peakMb: number }> {
  const args = ["--import", "tsx", program, "--from", String(from), "--to", String(to)];
  return new Promise((resolve, reject) => {
    execFile(process.execPath, args, { maxBuffer: 2 ** 26 }, (error, stdout, stderr) => {
      try {
        resolve(JSON.parse(stdout) as Watched & { peakMb: number });
      } catch {
        reject(new Error(`The run ended without a word. ${stderr.slice(0, 2000)}`, { cause: error }));
      }
    });
  });
}

describe("damaged input", () => {
  it.each(PARSERS.map((parser) => [parser.name, parser] as const))(
    "%s: good input is taken",
    async (_, parser) => {
      const seeds = parser.seeds();
      for (const seed of seeds) if ((await judge({ parser, seed })).taken) return;
      expect.fail(`none of ${seeds.map(({ name }) => name).join(", ")} is read`);
    },
  );

  it(
    `${CASES} cases end in what was read or in one Fault with a place`,
    { timeout: 60_000 + CASES * 100 },
    async () => {
      let cases = 0;
      const all: Record<string, [number, number]> = {};
      for (let from = 0; from < CASES; from += PIECE) {
        const watched = await run(from, Math.min(CASES, from + PIECE));
        expect(watched.findings).toEqual([]);
        expect(watched.peakMb).toBeLessThan(MOST_MB);
        cases += watched.cases;
        for (const [name, [taken, refused]] of Object.entries(watched.parsers)) {
          const sum = (all[name] ??= [0, 0]);
          sum[0] += taken;
          sum[1] += refused;
        }
      }
      expect(cases).toBe(CASES);
      // Damage is neither so light that nothing is refused nor so heavy that nothing is read.
      for (const { name } of PARSERS) expect(all[name], name).toBeDefined();
      const sum = (i: 0 | 1): number => Object.values(all).reduce((total, counts) => total + counts[i], 0);
      expect(sum(0)).toBeGreaterThan(CASES / 20);
      expect(sum(1)).toBeGreaterThan(CASES / 4);
    },
  );
});
