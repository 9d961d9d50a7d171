/** The command line: what it is given, and how it ends. 0 only on success, 1 for a fault, 2 for a wrong command. */
import { Command, CommanderError, Option } from "commander";
import { Fault } from "../../core/fault.ts";
import { PAPERS } from "../../core/sheet/page/paper-size.ts";
import { findApp } from "../services/app-folder.ts";
import type { ConvertOptions } from "./convert.ts";
import { addCourseCommands } from "./course-command.ts";
import type { ConvertArchiveOptions } from "./convert-archive.ts";
import type { DeclinationOptions } from "./declination.ts";
import { addExchangeCommands } from "./exchange-command.ts";
import { addFixCommands } from "./fix-command.ts";
import type { InspectOptions } from "./inspect.ts";
import type { MakeMapOptions } from "./make-map.ts";
import { READ_AS, WRITE_AS } from "./notations.ts";
import { say } from "./say.ts";
import type { ScaleOptions } from "./scale.ts";
import { addSheetCommand } from "./sheet-command.ts";
import { addTeachingCommands } from "./teaching-command.ts";
import { TABLE_FORMATS } from "./table-format.ts";
import type { TableOptions } from "./table.ts";
import { addWalkOptions } from "./walk-options.ts";

function program(): Command {
  const legwright = new Command("legwright")
    .description("Leg tables and maps for walking by map and compass.")
    .version(findApp().version)
    .exitOverride()
    .configureOutput({ outputError: (text) => say(text.replace(/^error: /, "")) })
    .showSuggestionAfterError(false);

  addWalkOptions(
    legwright
      .command("table")
      .description(
        "work out the legs of a walk: a walk file, or any GeoJSON with one line or points in order",
      )
      .argument("<walk>", "the walk file"),
  )
    .option(
      "--describe",
      "tell each leg in plain words, in order of walking (text, html and pdf; json always)",
    )
    .option("--advice", "odds by simulated walkers, what would help, ways out: about a second a leg")
    .option("--walkers <number>", "how many set out (with --advice; 10000)")
    .option("--seed <number>", "the same seed gives the same walkers (with --advice; 1)")
    .option("--unaided", "compass in hand, without steering marks (with --advice)")
    .option("--sight <metres>", "from how far the targets are seen (with --advice; 30)")
    .option("--explain", "say of each figure how it was worked out (text and json)")
    .addOption(
      new Option("--format <format>", "default: by the ending of --out, else text").choices(TABLE_FORMATS),
    )
    .option("--columns <ids>", "with pdf: columns in order, by commas, like bearing,distanceM,paces")
    .option("--blank <ids>", "with pdf: boxes to write in, by commas, like actualTime,actualCount")
    .option("--large", "with pdf: large type")
    .option("--black-and-white", "with pdf: nothing printed in colour")
    .addOption(new Option("--paper <paper>", "with pdf (a4)").choices(Object.keys(PAPERS)))
    .option("--landscape", "with pdf: the paper lies on its long side")
    .option("--out <file>", "write to a file instead of stdout")
    .action(async (walk: string, options: TableOptions) => (await import("./table.ts")).table(walk, options));

  legwright
    .command("make-map")
    .description("make a map from elevation models and files of features")
    .argument("<out>", "the archive to write, ending in .pmtiles; the terrain goes beside it")
    .requiredOption(
      "--elevation <files...>",
      "elevation models: GeoTIFF, .hgt, ASCII grid (.asc), or one of them in a .zip; several are joined",
    )
    .option(
      "--features <files...>",
      "what is on the ground: .osm.pbf, .osm, GeoJSON (also a feature a line), .shp, GPX, KML, KMZ, or a .zip of them",
    )
    .option("--rules <file>", "JSON rules that say what features are, tried before the built-in ones")
    .option("--features-crs <crs>", "system of files of features that do not say theirs, like EPSG:2193")
    .option(
      "--derive <what>",
      "work out from the terrain: streams, ridges, spot-heights, cliffs, by commas, or none (default: what the features lack)",
    )
    .option(
      "--interval <interval>",
      "contour interval, like 10m or 40ft; auto takes one that suits the ground",
      "auto",
    )
    .option("--title <title>", "the map's title (default: the archive's name)")
    .option("--source <text>", "where the data comes from")
    .option("--date <date>", "date of the data, YYYY or YYYY-MM-DD")
    .option("--attribution <text>", "whom to credit, shown on the map")
    .option("--datum <text>", "what the model's heights are counted from")
    .option(
      "--crs <crs>",
      "EPSG:…, a PROJ string or WKT: the system the files are in, whatever they say (.hgt files excepted)",
    )
    .addOption(
      new Option("--height-unit <unit>", "of the files' heights, whatever they say").choices(["m", "ft"]),
    )
    .option("--bounds <area>", "of the map, west,south,east,north in degrees (default: all there is)")
    .option("--cell <size>", "spacing of heights, like 10m (default: that of the finest file)")
    .option("--grid-crs <crs>", "system the heights are brought into (default: that of the finest file)")
    .option(
      "--fill-voids <cells>",
      "fill missing heights in gaps up to so many cells wide; the map says how much of it is made up",
    )
    .action(async (out: string, options: MakeMapOptions) =>
      (await import("./make-map.ts")).makeMapFile(out, options),
    );

  legwright
    .command("inspect")
    .description("say what a map archive holds")
    .argument("<map>", "the .pmtiles archive")
    .addOption(new Option("--format <format>").choices(["text", "json"]).default("text"))
    .option("--out <file>", "write to a file instead of stdout")
    .action(async (map: string, options: InspectOptions) =>
      (await import("./inspect.ts")).inspect(map, options),
    );

  legwright
    .command("convert-archive")
    .description(
      "make an .mbtiles archive, or one of another program, a map: .pmtiles, each tile once, gzipped",
    )
    .argument("<in>", "the .mbtiles or .pmtiles archive")
    .argument("<out>", "the archive to write, ending in .pmtiles")
    .option("--roles <file>", "JSON with what the layers hold, as inspect --format json tells it, put right")
    .option("--title <title>", "the map's title (default: as it has)")
    .action(async (path: string, out: string, options: ConvertArchiveOptions) =>
      (await import("./convert-archive.ts")).convertArchive(path, out, options),
    );

  legwright
    .command("convert")
    .description("write positions in every notation, with convergence and scale of their grid")
    .argument("[position...]", "positions in quotes, one each; none reads standard input, one a line")
    .addOption(
      new Option(
        "--from <notation>",
        "british: two letters and figures; grid: easting and northing in --grid (default: any other)",
      ).choices(READ_AS),
    )
    .option("--near <position>", "a place nearby, to complete a partial grid reference")
    .addOption(new Option("--to <notation>", "the notation alone").choices(WRITE_AS).default("all"))
    .option(
      "--grid <grid>",
      "another grid: nad27, nad27-alaska, nad27-canada (each with :zone if need be), british, one of the settings, or a PROJ string",
    )
    .addOption(
      new Option("--precision <metres>", "of references (default: 1, or as coarse as the one read)").choices([
        "1",
        "10",
        "100",
        "1000",
        "10000",
      ]),
    )
    .addOption(new Option("--format <format>").choices(["text", "json"]).default("text"))
    .action(async (positions: string[], options: ConvertOptions) =>
      (await import("./convert.ts")).convert(positions, options),
    );

  legwright
    .command("declination")
    .description("how magnetic, grid and true north lie at a place, and what to add or subtract")
    .argument("<position>", "the place, in any notation, in quotes")
    .option("--date <day>", "YYYY-MM-DD (default: today)")
    .option("--height <height>", "above the sea, like 1200m or 4000ft (default: at the sea)")
    .option("--beyond-model", "insist on a day that no magnetic model covers")
    .option("--printed <angle>", "the declination printed on the map, like 12°30' E")
    .option("--printed-gm <angle>", "the grid–magnetic angle printed on it instead")
    .option("--year <year>", "the year the printed angle is for")
    .option("--change <angle>", "its annual change, like 6' W")
    .option("--grid <grid>", "the map's grid, as with convert (default: UTM)")
    .addOption(new Option("--format <format>").choices(["text", "json"]).default("text"))
    .action(async (position: string, options: DeclinationOptions) =>
      (await import("./declination.ts")).declination(position, options),
    );

  legwright
    .command("scale")
    .description("from a ruler on the map to the ground and back, or a map's scale from a known distance")
    .argument("[scale]", "like 1:24000 or '1 inch = 2000 feet'; none works it out from --ruler and --ground")
    .option("--ruler <length>", "a length on the map, like 37mm or 1.5in")
    .option("--ground <length>", "a distance on the ground, like 640m or 0.5mi")
    .addOption(new Option("--format <format>").choices(["text", "json"]).default("text"))
    .action(async (text: string | undefined, options: ScaleOptions) =>
      (await import("./scale.ts")).scale(text, options),
    );

  addSheetCommand(legwright);
  addExchangeCommands(legwright);
  addFixCommands(legwright);
  addCourseCommands(legwright);
  addTeachingCommands(legwright);
  return legwright;
}

/** A position that begins with a minus is no option; the space before it is lost again in reading. */
const southern = (arg: string): string => (/^-\.?\d/.test(arg) ? ` ${arg}` : arg);

/** Runs one command. @param argv without the names of Node and of the script. @returns the exit code */
export async function run(argv: readonly string[]): Promise<number> {
  try {
    await program().parseAsync(argv.map(southern), { from: "user" });
    return 0;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    if (process.env.LEGWRIGHT_TRACE)
      process.stderr.write(`${error instanceof Error ? error.stack : String(error)}\n`);
    // What is no Fault is a mistake of this program, and what it says is for those who mend it.
    if (error instanceof Fault) say(error.message);
    else
      say(
        `this failed in a way that was not foreseen: ${Fault.from(error).what} LEGWRIGHT_TRACE=1 shows where.`,
      );
    return 1;
  }
}
