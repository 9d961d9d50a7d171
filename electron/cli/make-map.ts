import { basename, resolve } from "node:path";
import { Fault } from "../../core/fault.ts";
import { parseInterval } from "../../core/mapmaking/interval.ts";
import type { MakeOptions } from "../../core/mapmaking/pace.ts";
import type { Bbox } from "../../core/units/position.ts";
import { makeMapFromFiles } from "../services/map-making/make-from-files.ts";
import { deriveOf, featureWords, readRules } from "./make-map-features.ts";
import { terrainPathOf } from "./map-files.ts";
import { checkFolderOf } from "./product.ts";
import { progressLine } from "./progress-line.ts";
import { say } from "./say.ts";

export interface MakeMapOptions {
  readonly elevation: readonly string[];
  readonly interval: string;
  readonly title?: string;
  readonly source?: string;
  readonly date?: string;
  readonly attribution?: string;
  readonly datum?: string;
  readonly crs?: string;
  readonly heightUnit?: "m" | "ft";
  readonly bounds?: string;
  readonly cell?: string;
  readonly gridCrs?: string;
  readonly fillVoids?: string;
  readonly features?: readonly string[];
  readonly rules?: string;
  readonly featuresCrs?: string;
  readonly derive?: string;
}

/** `make-map OUT`: elevation models, and files of features, into OUT.pmtiles and OUT.terrain.pmtiles, both or neither. */
export async function makeMapFile(out: string, options: MakeMapOptions): Promise<void> {
  const path = resolve(out);
  const terrainPath = terrainPathOf(path);
  const interval = options.interval === "auto" ? ("auto" as const) : parseInterval(options.interval);
  const bounds = options.bounds === undefined ? undefined : boundsOf(options.bounds);
  const cellM = options.cell === undefined ? undefined : lengthOf(options.cell);
  const fillVoids = options.fillVoids === undefined ? undefined : cellsOf(options.fillVoids);
  const derive = options.derive === undefined ? undefined : deriveOf(options.derive);
  const rules = options.rules === undefined ? undefined : await readRules(options.rules);
  await checkFolderOf(path);

  const stop = new AbortController();
  const interrupt = (): void => stop.abort();
  process.once("SIGINT", interrupt).once("SIGTERM", interrupt);
  const line = progressLine(process.stderr);
  const working: MakeOptions = {
    progress: ({ stage, done, leftS }) => {
      if (done < 1) line.show(`${stage} … ${Math.floor(done * 100)} %${leftWords(leftS)}`);
    },
    signal: stop.signal,
  };
  try {
    const { crs, heightUnit, gridCrs, source, date, attribution, datum, featuresCrs } = options;
    await makeMapFromFiles(
      {
        elevation: options.elevation,
        features: options.features ?? [],
        title: options.title ?? basename(path).replace(/\.pmtiles$/i, ""),
        interval,
        bounds,
        cellM,
        fillVoids,
        derive,
        rules,
        crs,
        heightUnit,
        gridCrs,
        source,
        date,
        attribution,
        datum,
        featuresCrs,
      },
      { path, terrainPath },
      working,
      {
        notes(notes) {
          line.clear();
          for (const note of notes) say(note);
        },
        features(report) {
          line.clear();
          for (const words of featureWords(report)) say(`note: ${words}`);
        },
      },
    );
  } finally {
    line.clear();
    process.off("SIGINT", interrupt).off("SIGTERM", interrupt);
  }
}

/** How long is left, as far as that can be said. */
function leftWords(leftS: number | null): string {
  if (leftS === null) return "";
  return leftS < 90
    ? `, about ${Math.max(1, Math.round(leftS))} s left`
    : `, about ${Math.round(leftS / 60)} min left`;
}

/** @throws Fault "bad-argument" for what is no box of degrees */
function boundsOf(text: string): Bbox {
  const numbers = text.split(",").map((part) => (part.trim() === "" ? Number.NaN : Number(part)));
  const [west, south, east, north] = numbers;
  if (numbers.length !== 4 || !numbers.every(Number.isFinite))
    throw new Fault(
      "bad-argument",
      `“${text.trim()}” is no area.`,
      "--bounds",
      "Write west,south,east,north in degrees, like -84.4,36.5,-84.1,36.7.",
    );
  const box = [west, south, east, north] as Bbox;
  if (Math.abs(box[1]) > 90 || Math.abs(box[3]) > 90 || Math.abs(box[0]) > 180 || Math.abs(box[2]) > 180)
    throw new Fault(
      "bad-argument",
      `“${text.trim()}” reaches beyond the earth.`,
      "--bounds",
      "Longitudes run from -180 to 180, latitudes from -90 to 90: west,south,east,north.",
    );
  if (!(box[0] < box[2] && box[1] < box[3]))
    throw new Fault(
      "bad-argument",
      `“${text.trim()}” has no extent.`,
      "--bounds",
      "West comes before east and south before north: west,south,east,north.",
    );
  return box;
}

/** A cell size like "30", "30m" or "100ft", metres. */
function lengthOf(text: string): number {
  const [, number, unit] = /^\s*(\d+(?:\.\d+)?)\s*(m|ft)?\s*$/i.exec(text) ?? [];
  const value = Number(number) * (unit?.toLowerCase() === "ft" ? 0.3048 : 1);
  if (!(value > 0))
    throw new Fault("bad-argument", `“${text}” is no size of a cell.`, "--cell", "Write it like 30m.");
  return value;
}

function cellsOf(text: string): number {
  const cells = Number(text);
  if (text.trim() === "" || !Number.isInteger(cells) || cells < 0 || cells > 1000)
    throw new Fault(
      "bad-argument",
      `“${text}” is no number of cells.`,
      "--fill-voids",
      "Give a whole number from 0 to 1000.",
    );
  return cells;
}
