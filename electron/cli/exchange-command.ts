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
    .option(
      "--track",
      "the ground along the legs as a track too, with the heights of the map; not with csv and tsv",
    )
    .option("--heights", "heights of the points")
    .option("--map <file>", "the map heights are taken from; without it the one the walk was planned on")
    .option("--no-notes", "leave notes off")
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
    .option("--exchanged", "latitude and longitude stand in each other's place")
    .option(
      "--encoding <name>",
      "how letters are written, such as windows-1252; without it the file says, or it is found out",
    )
    .option(
      "--grid <name>",
      "figures are easting and northing: nad27:ZONE, british, one of the settings, or a PROJ string",
    )
    .option("--datum <name>", "degrees are those of nad27, nad27-alaska, nad27-canada or british")
    .option(
      "--dialect <words...>",
      "of a table: comma, semicolon or tab, decimal-point or decimal-comma, header or no-header, columns=name,-,lat,lon",
    )
    .action(async (file: string, options: ImportOptions) =>
      (await import("./import.ts")).importWalk(file, options),
    );
}
