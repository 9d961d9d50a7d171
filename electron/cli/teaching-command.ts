/** The commands for practice on paper and on small ground, and their options. */
import { type Command, Option } from "commander";
import { DRILL_LEVELS } from "../../core/course/drills/level.ts";
import { FIELD_SHAPES } from "../../core/course/field-shapes.ts";
import { PAPERS } from "../../core/sheet/page/paper-size.ts";
import type { DrillOptions } from "./drill.ts";
import type { FieldOptions, ScoreOptions } from "./field-course.ts";

const format = (): Option => new Option("--format <format>").choices(["text", "json"]).default("text");

export function addTeachingCommands(program: Command): void {
  program
    .command("drill")
    .description("set a worksheet of questions on a map, with how each answer is found")
    .requiredOption("--map <map>", "the map's .pmtiles archive")
    .requiredOption("--at <position>", "the middle of the sheet, in any notation, in quotes")
    .option("--radius <distance>", "marks lie within so far of it", "2km")
    .option("--scale <scale>", "of the sheet, like 25000 or 1:24000", "25000")
    .option(
      "--kinds <kinds>",
      "by commas: bearing, norths, back, reference, distance, climb, landform, profile, aim-off, handrail (all)",
    )
    .option("--questions <number>", "how many", "12")
    .addOption(
      new Option("--level <level>", "lines, contours and how close an answer must come")
        .choices(DRILL_LEVELS)
        .default("middle"),
    )
    .option("--seed <number>", "the same seed gives the same worksheet (1)")
    .option("--date <day>", "for the norths, YYYY-MM-DD (default: today)")
    .option("--answers", "with where the marks stand, the answers, and how they are found")
    .addOption(format())
    .option(
      "--out <file>",
      "write to a file instead of stdout; one that ends in .pdf is printed, with its maps",
    )
    .addOption(new Option("--paper <paper>", "of the PDF").choices(Object.keys(PAPERS)).default("a4"))
    .option("--large", "PDF: no type below 14 pt")
    .option("--black-and-white", "PDF: no colour")
    .action(async (options: DrillOptions) => (await import("./drill.ts")).drill(options));

  program
    .command("field-course")
    .description("set a course of bearings and paces on a playing field, without a map")
    .requiredOption("--length <distance>", "of the ground, like 100m")
    .requiredOption("--width <distance>", "of the ground, like 60m")
    .option("--along <bearing>", "magnetic bearing of its longer side", "0")
    .option("--legs <number>", "how many", "6")
    .option("--leg <lengths>", "of each, like 20m-45m", "20m-45m")
    .option("--step <degrees>", "bearings are multiples of it", "5")
    .addOption(
      new Option(
        "--shape <shape>",
        "even: equal sides back to the first stake; closed: back to it by sides of all lengths; open: ending elsewhere; return: out and back",
      )
        .choices(FIELD_SHAPES)
        .default("closed"),
    )
    .option("--paces <number>", "to 100 m, double paces: legs are told in them too")
    .option("--steps", "with --paces: every step is counted")
    .option("--seed <number>", "the same seed gives the same course (1)")
    .option("--learner", "the learner's list: no stakes, no answers")
    .addOption(format())
    .option(
      "--out <file>",
      "write to a file instead of stdout; one that ends in .pdf gets sheets, with the plan",
    )
    .option("--sheets <sheets>", "PDF: learner, setter, scoring, by commas (all)")
    .addOption(new Option("--paper <paper>", "of the PDF").choices(Object.keys(PAPERS)).default("a4"))
    .option("--large", "PDF: no type below 14 pt")
    .option("--black-and-white", "PDF: no colour")
    .action(async (options: FieldOptions) => (await import("./field-course.ts")).fieldCourseCommand(options));

  program
    .command("score")
    .description("turn where a learner stopped into degrees off the bearing and percent off the count")
    .requiredOption("--bearing <bearing>", "of the leg")
    .requiredOption("--length <distance>", "of the leg")
    .option("--beyond <distance>", "beyond the point")
    .option("--short <distance>", "short of it")
    .option("--right <distance>", "right of the way")
    .option("--left <distance>", "left of it")
    .option("--miss <miss>", 'instead: from the point to the learner, like "200 2.5m", on the leg\'s north')
    .addOption(format())
    .action(async (options: ScoreOptions) => (await import("./field-course.ts")).score(options));
}
