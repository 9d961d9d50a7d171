/**
 * `npm run test:long`: the tests whose worth grows with how often they try, at full length: damaged input, kills while
 * saving, courses, wrong bearings. It takes an hour or more. Each number may be set from outside, and LEGWRIGHT_CORPUS to a
 * folder of further good files to damage.
 */
import { spawnSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

const LENGTHS = {
  LEGWRIGHT_MUTATIONS: "200000",
  LEGWRIGHT_KILLS: "2000",
  LEGWRIGHT_SEEDS: "1000",
  LEGWRIGHT_WRONG: "10000",
};

const asksForLength = (path) =>
  Object.keys(LENGTHS).some((name) => readFileSync(path, "utf8").includes(name));
const tests = readdirSync("tests", { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".test.ts"))
  .map((name) => join("tests", name))
  .filter(asksForLength);

process.stdout.write(`${tests.join("\n")}\n`);
const args = ["node_modules/vitest/vitest.mjs", "run", "--config", "tests/vitest.config.ts", ...tests];
const { status } = spawnSync(process.execPath, [...args, ...process.argv.slice(2)], {
  env: { ...LENGTHS, ...process.env },
  stdio: "inherit",
});
process.exitCode = status ?? 1;
