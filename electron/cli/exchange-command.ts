/** The `export` and `import` commands, apart from their work. */
import { type Command, Option } from "commander";
import type { ExportOptions } from "./export.ts";
import type { ImportOptions } from "./import.ts";

export function addExchangeCommands(legwright: Command): void {
  legwright
    .command("export")
    .description("write a walk for GPS receivers, GIS and spreadsheets")
    .argument("<walk>", "the walk file, or any GeoJSON with one line or points in order")
    .requiredOption("--out <file>", "where to: .gpx, .kml, .kmz, .geojson, .csv or .tsv")
    .option("--waypoints", "with gpx: each point as a waypoint too")
    .option("--track", "with gpx: the legs as a track too, without heights")
    .option(
      "--dialect <words...>",
      "with csv and tsv: semicolon or tab, decimal-comma, lf, bom, headers=NAME,LAT,LON,NOTE",
    )
    .action(async (walk: string, options: ExportOptions) =>
      (await import("./export.ts")).exportWalk(walk, options),
    );

  legwright
    .command("import")
    .description("make a walk of a route, track or points in GPX, KML, KMZ, GeoJSON, CSV or TSV")
    .argument("<file>", "the file")
    .option("--out <file>", "the walk file to write; without it the file's content is listed")
    .option("--pick <number>", "which of the routes, tracks and sets of points, as listed")
    .option("--tolerance <length>", "thin a track: how far a dropped position may lie from its leg, like 10m")
    .addOption(new Option("--axes <order>", "order of columns without names").choices(["lat-lon", "lon-lat"]))
    .action(async (file: string, options: ImportOptions) =>
      (await import("./import.ts")).importWalk(file, options),
    );
}
