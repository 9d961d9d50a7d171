/** Makes the sample map, its terrain and its walk: `npm run sample-map`. The same seed gives the same bytes. */
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { makeSample } from "./sample.ts";

const started = Date.now();
const seconds = (): string => `${((Date.now() - started) / 1000).toFixed(1)} s`;
const sample = await makeSample((stage) => console.log(`${seconds().padStart(8)}  ${stage}`));
const write = (name: string, content: Uint8Array | string): void => {
  writeFileSync(fileURLToPath(new URL(name, import.meta.url)), content);
  console.log(`${seconds().padStart(8)}  ${name}: ${(content.length / 1e6).toFixed(2)} MB`);
};
write("uldermoor.pmtiles", sample.archive);
write("uldermoor.terrain.pmtiles", sample.terrain);
write("uldermoor-practice.walk.geojson", sample.walk);
