/** Options that many commands on a walk take: what is said of the walk, and of the compass. */
import { type Command, Option } from "commander";
import { TIME_METHODS } from "../../core/travel/walking-time.ts";

/** The options `walkEdit` and `compassOf` read. */
export function addWalkOptions(command: Command): Command {
  return command
    .option("--map <map>", "the map's .pmtiles archive (default: the one the walk was planned on)")
    .option(
      "--date <day>",
      "day of the walk, YYYY-MM-DD (default, as of all options up to --beyond-model: the walk's own)",
    )
    .option("--start <time>", "time of setting out, HH:MM")
    .option("--back-by <time>", "time by which to be back, HH:MM (default: sunset)")
    .option("--time-zone <zone>", "of these times, like Europe/Oslo (default: the computer's)")
    .option("--pace <count>", "paces for 100 m")
    .addOption(
      new Option("--time <rule>", "how walking time is worked out").choices(Object.keys(TIME_METHODS)),
    )
    .addOption(
      new Option("--north <north>", "the north of the first bearing").choices(["magnetic", "grid", "true"]),
    )
    .option("--printed <angle>", "the declination printed on the map rules, like 12°30' E")
    .option("--printed-gm <angle>", "the grid–magnetic angle printed on it instead")
    .option("--year <year>", "the year the printed angle is for")
    .option("--change <angle>", "its annual change, like 6' W")
    .option("--beyond-model", "insist on a day that no magnetic model covers")
    .addOption(
      new Option("--unit <unit>", "of the compass")
        .choices(["degrees", "quadrant", "mils"])
        .default("degrees"),
    )
    .option("--round <marks>", "spacing of the compass's marks: 1, 2 or 5°, or 10 to 100 mils")
    .option(
      "--adjustable",
      "the declination is set on the compass: it is dialled true, or grid with --north grid",
    )
    .addOption(new Option("--length <units>").choices(["metric", "imperial"]).default("metric"));
}
