/** The `sheet` command, apart from its work, so that help and usage errors need not load all that draws. */
import { type Command, Option } from "commander";
import { PAPERS } from "../../core/sheet/page/paper-size.ts";
import type { SheetOptions } from "./sheet.ts";
import { addWalkOptions } from "./walk-options.ts";

export function addSheetCommand(legwright: Command): void {
  const command = legwright
    .command("sheet")
    .description(
      "draw a walk on paper: field sheets of the map at true scale, leg table, route card, handouts",
    )
    .argument("<walk>", "the walk file, or any GeoJSON with one line or points in order")
    .requiredOption("--out <file>", "where to: .pdf, or .svg with a numbered file for each page")
    .option("--scale <scale>", "like 25000, 1:24000 or '1 inch = 2000 feet' (1:25000)")
    .addOption(new Option("--paper <paper>").choices(Object.keys(PAPERS)).default("a4"))
    .option("--landscape", "the paper lies on its long side")
    .option("--fit", "the whole walk on one sheet, at the usual scale at which it fits")
    .option("--strips", "a sheet for each leg")
    .addOption(new Option("--up <what>", "what is up on strips").choices(["leg", "north"]))
    .option("--at <position...>", "centres of sheets put by hand, each in quotes, in any notation")
    .option("--index", "a page that shows how several sheets lie")
    .option("--grid <grid>", "another grid than UTM, as with convert")
    .option("--no-grid-lines", "no grid lines on the sheets")
    .option("--magnetic-lines [mm]", "lines of magnetic north, 40 mm apart or as said")
    .option("--handrails", "draw the lines to follow")
    .option("--backstops", "draw the lines that stop you")
    .option("--hazards", "draw what to mind")
    .option("--cone", "draw how far one may drift")
    .option("--roamer", "a roamer for the sheets' scale")
    .option("--no-sheets", "no field sheets, only what is named of the following")
    .option("--table", "the leg table too")
    .option("--route-card", "a route card to leave with someone too")
    .option("--pocket", "pocket cards to fold too")
    .option("--handout", "the leg table without its answers too")
    .option("--answers", "the sheet of answers too")
    .option("--columns <ids>", "columns of the leg table in order, by commas, like bearing,distanceM,paces")
    .option("--blank <ids>", "boxes to write in, by commas, like actualTime,actualCount")
    .option(
      "--party <what=text...>",
      "for the route card: names=, phone=, vehicle=, kit=, contact=, each in quotes",
    )
    .option("--ask <ids>", "figures the handout asks for, by commas, like bearing,distanceM")
    .option(
      "--tolerance <what=off...>",
      "how far off an answer counts as right: bearing=3 distance=10% distance=50m paces=15% height=20m",
    )
    .option("--large", "large type")
    .option("--black-and-white", "nothing printed in colour")
    .option("--advice", "odds and ways out where papers tell them: about a second a leg");
  addWalkOptions(command).action(async (walk: string, options: SheetOptions) =>
    (await import("./sheet.ts")).sheet(walk, options),
  );
}
