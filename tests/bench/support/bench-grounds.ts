/** The grounds legs are timed on: bytes of their archives, so that each can be opened anew. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { makeMap } from "../../../core/mapmaking/make-map.ts";
import { bytesSource } from "../../../core/map/source.ts";
import { type Ground, openGround } from "../../../core/terrain/ground.ts";
import type { Bbox } from "../../../core/units/position.ts";
import { modelOf } from "../../core/terrain/support/real-ground.ts";
import { denseArchives } from "./dense-map.ts";

export interface BenchGround {
  readonly title: string;
  /** Where legs begin and end. */
  readonly box: Bbox;
  readonly open: () => Promise<Ground>;
}

interface Archives {
  readonly archive: Uint8Array;
  readonly terrain: Uint8Array;
}

function benchGround(title: string, box: Bbox, { archive, terrain }: Archives): BenchGround {
  return {
    title,
    box,
    open: () =>
      openGround(bytesSource("bench.pmtiles", archive), bytesSource("bench.terrain.pmtiles", terrain)),
  };
}

/** The generated worst case around its town, where all lines lie. */
export async function denseBench(intervalM: number): Promise<BenchGround> {
  return benchGround(
    `dense map, contours every ${intervalM} m, a town's roads and rivers`,
    [20.42, -34.05, 20.49, -34.0],
    await denseArchives(intervalM),
  );
}

const SAMPLE = new URL("../../../sample-maps/", import.meta.url);

/** Null when the sample map has not been made. */
export async function sampleBench(): Promise<BenchGround | null> {
  if (!existsSync(SAMPLE)) return null;
  const terrain = readdirSync(SAMPLE).find((file) => file.endsWith(".terrain.pmtiles"));
  if (!terrain) return null;
  const read = (file: string): Uint8Array => new Uint8Array(readFileSync(new URL(file, SAMPLE)));
  const archives = { archive: read(terrain.replace(".terrain", "")), terrain: read(terrain) };
  const whole = benchGround("sample map", [0, 0, 0, 0], archives);
  const [west, south, east, north] = (await whole.open()).map.info.bounds;
  const [dx, dy] = [(east - west) / 8, (north - south) / 8];
  return { ...whole, box: [west + dx, south + dy, east - dx, north - dy] };
}

/** A real model in UTM, with ridge and valley lines and streams worked out from it, contours every 10 m. */
export async function realBench(): Promise<BenchGround> {
  const made = await makeMap({
    elevation: await modelOf("bigtujunga"),
    interval: { value: 10, unit: "m" },
    about: {
      title: "bigtujunga",
      source: "SRTM",
      date: "2000",
      attribution: null,
      datum: "EGM96",
      invented: false,
    },
  });
  return benchGround(
    "real model bigtujunga (30 m, UTM), contours every 10 m",
    [-118.2, 34.305, -118.145, 34.355],
    made,
  );
}
