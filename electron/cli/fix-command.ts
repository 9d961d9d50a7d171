/** The `fix` commands and their options. */
import { type Command, Option } from "commander";
import type { BearingOptions, ReckonOptions } from "./fix.ts";
import type { BackOnTrackOptions, OnLineOptions } from "./fix-map.ts";

const gather = (one: string, before: readonly string[] | undefined): string[] => [...(before ?? []), one];

const common = (command: Command): Command =>
  command
    .option("--date <day>", "day of the bearings, YYYY-MM-DD (default: today)")
    .option("--near <position>", "a place nearby, to complete partial grid references")
    .option("--grid <grid>", "the grid of grid bearings, as with convert (default: UTM)")
    .option("--beyond-model", "insist on a day that no magnetic model covers")
    .option("--printed <angle>", "the declination printed on the map rules, like 12°30' E")
    .option("--printed-gm <angle>", "the grid–magnetic angle printed on it instead")
    .option("--year <year>", "the year the printed angle is for")
    .option("--change <angle>", "its annual change, like 6' W")
    .addOption(new Option("--format <format>").choices(["text", "json"]).default("text"));

const legs = (command: Command): Command =>
  command
    .requiredOption("--from <position>", "where the first leg began")
    .addOption(
      new Option("--leg <leg>", 'in quotes, like "247 magnetic 650 paces" or "30 grid 400 m"; once for each')
        .argParser(gather)
        .makeOptionMandatory(),
    )
    .option("--pace <count>", "paces for 100 m (65)");

const onMap = (command: Command): Command =>
  command
    .requiredOption("--map <map>", "the map's .pmtiles archive")
    .addOption(
      new Option("--at <line>", 'what you stand at, like stream or "wood edge"; once for each')
        .argParser(gather)
        .makeOptionMandatory(),
    )
    .addOption(
      new Option(
        "--bearing <bearing>",
        'from there, like "247 magnetic to 54.46 N 3.21 W as Knott"',
      ).argParser(gather),
    )
    .option("--error <degrees>", "standard error of a bearing (2)")
    .option("--elevation <height>", "what an altimeter shows, like 640m")
    .option("--slope <degrees>", "how steep the ground is there, like 12")
    .option("--facing <bearing>", 'the way the ground falls there, like "240 magnetic"');

export function addFixCommands(program: Command): void {
  const fix = program.command("fix").description("a position from bearings, or from legs walked");
  for (const [name, about, example] of [
    ["resect", "own position, from bearings to known points", "247 magnetic to 54.46 N 3.21 W as Knott"],
    ["intersect", "a far point, from bearings taken at known places", "247 magnetic from 54.46 N 3.21 W"],
  ] as const)
    common(
      fix
        .command(name)
        .description(about)
        .addOption(
          new Option("--bearing <bearing>", `in quotes, like "${example}"; once for each, two or more`)
            .argParser(gather)
            .makeOptionMandatory(),
        )
        .option("--error <degrees>", "standard error of a bearing (2)"),
    ).action(async (options: BearingOptions) => (await import("./fix.ts")).fixFromBearings(name, options));
  common(
    onMap(
      fix
        .command("on-line")
        .description("the place on a line of the map, from one bearing or a height")
        .requiredOption("--around <position>", "roughly where: lines are looked for around it")
        .option("--within <distance>", "so far from there (3 km)"),
    ),
  ).action(async (options: OnLineOptions) => (await import("./fix-map.ts")).fixOnMapLine(options));
  common(
    legs(
      onMap(
        fix
          .command("back-on-track")
          .description("likely places on lines of the map after a count, and the way on from each"),
      ),
    )
      .option("--or-up-to <position>", "set out somewhere between --from and here")
      .option("--next <position>", "where to go on to"),
  ).action(async (options: BackOnTrackOptions) => (await import("./fix-map.ts")).fixBackOnTrack(options));
  common(
    legs(
      fix.command("reckon").description("the place after legs on bearings, and how surely it is known"),
    ).option("--every <distance>", "also places this far apart on each leg, like 100m"),
  ).action(async (options: ReckonOptions) => (await import("./fix.ts")).fixByReckoning(options));
}
