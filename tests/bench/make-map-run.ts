/**
 * A one-degree, one-arc-second model made into a map, side by side in one run with GDAL making contours and vector
 * tiles of the same model, and nothing else: GDAL's chain has no terrain tiles, ours has. With --area the same with four
 * degrees, and with --country one degree and three with an extract of OpenStreetMap data of 5 and 15 million nodes, to
 * see whether memory grows with the area.
 *
 *   npx tsx tests/bench/make-map-run.ts [--rounds 2] [--area] [--country]
 *
 * Takes minutes. Needs GNU time (/usr/bin/time); says so, and leaves GDAL out, where gdal_contour is not installed.
 */
import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { writeCountry } from "./support/country-extract.ts";
import { writeDegree } from "./support/rough-degree.ts";

interface Took {
  readonly wallS: number;
  readonly processorS: number;
  readonly peakMB: number;
}

/** Runs a command under GNU time. */
function timed(command: string, args: readonly string[], cwd: string): Took {
  const { status, stderr } = spawnSync("/usr/bin/time", ["-f", "took %e %U %S %M", command, ...args], {
    cwd,
    encoding: "utf8",
  });
  const found = /took ([\d.]+) ([\d.]+) ([\d.]+) (\d+)/.exec(stderr);
  if (status !== 0 || !found) throw new Error(`${command} failed:\n${stderr}`);
  const [, wall, user, system, kilobytes] = found.map(Number);
  return { wallS: wall!, processorS: user! + system!, peakMB: (kilobytes! * 1024) / 1e6 };
}

const folder = mkdtempSync(join(tmpdir(), "legwright-bench-"));
// A copy, so that a build meanwhile does not change it; beside the built one, so that it finds its packages.
const built = fileURLToPath(new URL("../../dist/electron", import.meta.url));
const copy = fileURLToPath(new URL(`../../dist/bench-${process.pid}`, import.meta.url));
const cli = pathToFileURL(join(copy, "cli.js")).href;
const start = join(copy, "start.mjs");

function ours(models: readonly string[], derive: boolean, features: readonly string[] = []): Took {
  const flags = ["--interval", "10m", ...(derive ? [] : ["--derive", "none"])];
  const elevation = ["--elevation", ...models, ...(features.length > 0 ? ["--features", ...features] : [])];
  return timed(process.execPath, [start, "make-map", "ours.pmtiles", ...elevation, ...flags], folder);
}

function gdals(model: string): Took {
  for (const name of ["gdal.fgb", "gdal.mbtiles"]) rmSync(join(folder, name), { force: true });
  const contour = timed(
    "gdal_contour",
    ["-q", "-a", "ele", "-i", "10", "-f", "FlatGeobuf", model, "gdal.fgb"],
    folder,
  );
  const options = ["FORMAT=MBTILES", "MINZOOM=8", "MAXZOOM=14"].flatMap((option) => ["-dsco", option]);
  const tiles = timed("ogr2ogr", ["-f", "MVT", "gdal.mbtiles", "gdal.fgb", ...options], folder);
  return {
    wallS: contour.wallS + tiles.wallS,
    processorS: contour.processorS + tiles.processorS,
    peakMB: Math.max(contour.peakMB, tiles.peakMB),
  };
}

const words = ({ wallS, processorS, peakMB }: Took): string =>
  `${wallS.toFixed(1)} s, ${processorS.toFixed(1)} s of processor time, ${peakMB.toFixed(0)} MB at most`;
const best = (all: readonly Took[]): Took => all.reduce((a, b) => (b.wallS < a.wallS ? b : a));
const megabytes = (name: string): string => `${(statSync(join(folder, name)).size / 1e6).toFixed(1)} MB`;

try {
  cpSync(built, copy, { recursive: true });
  writeFileSync(
    start,
    `const { run } = await import(${JSON.stringify(cli)});\nprocess.exitCode = await run(process.argv.slice(2));\n`,
  );
  const flag = process.argv.indexOf("--rounds");
  const rounds = flag > 0 ? Number(process.argv[flag + 1]) : 2;
  const model = "N45E010.hgt";
  await writeDegree(join(folder, model), 0, 0);
  const gdal = spawnSync("gdal_contour", ["--version"]).error === undefined;
  if (!gdal) console.log("GDAL's chain is SKIPPED: gdal_contour is not installed.");
  const own: Took[] = [];
  const other: Took[] = [];
  for (let round = 0; round < rounds; round++) {
    if (gdal) other.push(gdals(model));
    own.push(ours([model], false));
    console.log(`round ${round + 1}: ours ${words(own.at(-1)!)}`);
    if (gdal) console.log(`         GDAL ${words(other.at(-1)!)}`);
  }
  console.log(`3601 × 3601, contours every 10 m, vector tiles 8 to 14, terrain: ${words(best(own))}`);
  console.log(`map ${megabytes("ours.pmtiles")}, terrain ${megabytes("ours.terrain.pmtiles")}`);
  if (gdal) {
    const ratio = best(own).wallS / best(other).wallS;
    console.log(
      `contours and vector tiles alone by GDAL: ${words(best(other))}, ${megabytes("gdal.mbtiles")}`,
    );
    console.log(`ratio of wall times ${ratio.toFixed(2)} (bound 0.30)`);
  }
  console.log(`with streams, ridges, spot heights and cliffs: ${words(ours([model], true))}`);
  if (process.argv.includes("--area")) {
    const names = ["N45E010.hgt", "N45E011.hgt", "N44E010.hgt", "N44E011.hgt"];
    for (const [k, name] of names.entries()) if (k > 0) await writeDegree(join(folder, name), k & 1, k >> 1);
    console.log(`four such degrees: ${words(ours(names, false))}`);
    console.log(`four with streams, ridges, spot heights and cliffs: ${words(ours(names, true))}`);
  }
  if (process.argv.includes("--country")) {
    const names = [model, "N45E011.hgt", "N45E012.hgt"];
    for (const [k, name] of names.entries()) if (k > 0) await writeDegree(join(folder, name), k, 0);
    for (const degrees of [1, 3]) {
      const { nodes, ways } = writeCountry(join(folder, "country.osm.pbf"), 5.1e6 * degrees, [
        10,
        45,
        10 + degrees,
        46,
      ]);
      const took = ours(names.slice(0, degrees), true, ["country.osm.pbf"]);
      console.log(`${degrees} degrees with ${nodes} nodes and ${ways} ways: ${words(took)}`);
    }
  }
} finally {
  for (const path of [folder, copy]) rmSync(path, { recursive: true, force: true });
}
