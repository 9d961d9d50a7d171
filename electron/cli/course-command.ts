/** The `course` commands and their options. */
import { type Command, Option } from "commander";
import { COURSE_KINDS, COURSE_LEVELS } from "../../core/course/course.ts";
import { PAPERS } from "../../core/sheet/page/paper-size.ts";
import type { CourseOptions } from "./course.ts";
import type { CourseAgainOptions, CourseCheckOptions } from "./course-by-hand.ts";

export function addCourseCommands(program: Command): void {
  program
    .command("course")
    .description("set practice courses on a map, each leg checked by the rules of a level")
    .requiredOption("--map <map>", "the map's .pmtiles archive")
    .requiredOption("--start <position>", "where it begins, in any notation, in quotes")
    .addOption(
      new Option("--kind <kind>", "round trip, line, out and back to each point, or points in any order")
        .choices(COURSE_KINDS)
        .default("round"),
    )
    .addOption(new Option("--level <level>", "which rules are kept").choices(COURSE_LEVELS).default("easy"))
    .option("--points <number>", "points to find, the start not counted", "5")
    .option("--leg <lengths>", "of each leg, like 200m-400m (default, as below: the level's)")
    .option("--total <lengths>", "of all legs together, like 1.5km-2km")
    .option("--climb <heights>", "of all legs together, like 0m-100m")
    .addOption(
      new Option("--on <what>", "points stand on something findable, or on bare ground").choices([
        "found",
        "bare",
      ]),
    )
    .option("--backstops", "every leg has a backstop")
    .option("--no-backstops", "legs may be without one")
    .option("--odds <percent>", "so many of a hundred find each point")
    .option("--apart <distance>", "points lie at least so far from one another")
    .option("--seed <number>", "the same seed gives the same course (1)")
    .option("--count <number>", "several courses, equally hard, without a common leg (1)")
    .option("--date <day>", "of the course, YYYY-MM-DD (default: today)")
    .option("--title <title>", "of the walks")
    .addOption(
      new Option("--format <format>", "default: walk with --out, else text").choices([
        "text",
        "json",
        "walk",
      ]),
    )
    .option(
      "--out <file>",
      "the walk file to write, ending in .walk.geojson; several are numbered. One that ends in .pdf gets sheets",
    )
    .option("--sheets <sheets>", "PDF: learner, setter, scoring, by commas (all)")
    .addOption(
      new Option("--give <what>", "PDF: the learner gets bearings and lengths, or the points on the map")
        .choices(["legs", "map"])
        .default("legs"),
    )
    .addOption(new Option("--paper <paper>", "of the PDF").choices(Object.keys(PAPERS)).default("a4"))
    .option("--large", "PDF: no type below 14 pt")
    .option("--black-and-white", "PDF: no colour")
    .action(async (options: CourseOptions) => (await import("./course.ts")).course(options));

  program
    .command("course-check")
    .description("say which rules a course keeps and breaks after it was changed by hand")
    .argument("<walk>", "the walk file of the course")
    .requiredOption("--map <map>", "the map's .pmtiles archive")
    .addOption(new Option("--format <format>").choices(["text", "json"]).default("text"))
    .action(async (walk: string, options: CourseCheckOptions) =>
      (await import("./course-by-hand.ts")).courseCheck(walk, options),
    );

  program
    .command("course-again")
    .description("set one leg of a course anew: its end at another place, all else as it was")
    .argument("<walk>", "the walk file of the course")
    .requiredOption("--map <map>", "the map's .pmtiles archive")
    .requiredOption("--leg <number>", "which leg, from 1")
    .option("--seed <number>", "the same seed gives the same place (1)")
    .option("--out <file>", "the walk file to write, ending in .walk.geojson (default: standard output)")
    .action(async (walk: string, options: CourseAgainOptions) =>
      (await import("./course-by-hand.ts")).courseAgain(walk, options),
    );
}
