/** The declination in a map's margin, as options of the command line. */
import { Fault } from "../../core/fault.ts";
import { parseEastWest, type PrintedNorth } from "../../core/geodesy/printed-declination.ts";

export interface PrintedOptions {
  readonly printed?: string;
  readonly printedGm?: string;
  readonly year?: string;
  readonly change?: string;
}

/** What the map's margin says; null when nothing was given. @throws Fault "bad-argument" when it is given in part */
export function printedNorth({ printed, printedGm, year, change }: PrintedOptions): PrintedNorth | null {
  const fault = (what: string, remedy: string): Fault => new Fault("bad-argument", what, null, remedy);
  if (printed !== undefined && printedGm !== undefined)
    throw fault("A map's declination and its grid–magnetic angle were both given.", "Give one of them.");
  const value = printed ?? printedGm;
  if (value === undefined) {
    if (year === undefined && change === undefined) return null;
    throw fault(
      "The angle printed on the map is missing.",
      "Give it with --printed, or with --printed-gm from grid north.",
    );
  }
  if (year === undefined)
    throw fault(
      "The year of the printed declination is missing.",
      "Give it with --year: it stands beside it.",
    );
  if (!/^\s*\d{4}(\.\d+)?\s*$/.test(year))
    throw fault(`“${year}” is not the year of a printed declination.`, "Give the year in the map's margin.");
  return {
    valueDeg: parseEastWest(value),
    of: printed === undefined ? "gridMagnetic" : "declination",
    year: Number(year),
    annualChangeDeg: change === undefined ? 0 : parseEastWest(change),
  };
}
