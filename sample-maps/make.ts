/**
 * Makes the sample map, its terrain and its walk: `npm run sample-map`. The same seed gives the same bytes;
 * `npm run sample-map -- --check` writes nothing and fails unless that holds for the files that are there.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { makeSample } from "./sample.ts";

const check = process.argv.includes("--check");
const started = Date.now();
const say = (text: string): void =>
  console.log(`${((Date.now() - started) / 1000).toFixed(1).padStart(7)} s  ${text}`);

const sample = await makeSample(say);
const files = {
  "uldermoor.pmtiles": sample.archive,
  "uldermoor.terrain.pmtiles": sample.terrain,
  "uldermoor-practice.walk.geojson": Buffer.from(sample.walk),
};
for (const [name, bytes] of Object.entries(files)) {
  const place = new URL(name, import.meta.url);
  if (!check) writeFileSync(place, bytes);
  const same = Buffer.compare(readFileSync(place), bytes) === 0;
  say(`${name}: ${(bytes.length / 1e6).toFixed(2)} MB${check ? (same ? ", the same" : ", DIFFERENT") : ""}`);
  if (!same) process.exitCode = 1;
}
