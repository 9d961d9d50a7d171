import { stat } from "node:fs/promises";
import { basename } from "node:path";
import { type Exchange, READ_LIMITS } from "../../core/exchange/exchange.ts";
import { datumFrame, type FileFrame, gridFrame } from "../../core/exchange/file-frame.ts";
import { readExchange } from "../../core/exchange/read-exchange.ts";
import { walkFrom } from "../../core/exchange/walk-from.ts";
import { Fault } from "../../core/fault.ts";
import { isOfferedGrid, OFFERED_GRIDS } from "../../core/geodesy/offered-grids.ts";
import { formatLength } from "../../core/units/format.ts";
import { parseLength } from "../../core/units/length.ts";
import { formatWalk } from "../../core/walk/walk-file.ts";
import { fileFault } from "../services/file-faults.ts";
import { namedGrid } from "./named-grid.ts";
import { checkFolderOf, deliver } from "./product.ts";
import { readInput } from "./read-input.ts";
import { oneLine, say } from "./say.ts";
import { tableWish } from "./table-dialect.ts";

export interface ImportOptions {
  readonly out?: string;
  readonly pick?: string;
  readonly tolerance?: string;
  readonly axes?: "lat-lon" | "lon-lat";
  readonly exchanged?: true;
  readonly encoding?: string;
  readonly grid?: string;
  readonly datum?: string;
  readonly dialect?: readonly string[];
}

/** `import FILE --out W.walk.geojson`: lists what is there when nothing is to be written, or several are and none is picked. */
export async function importWalk(path: string, options: ImportOptions): Promise<void> {
  const name = basename(path);
  if (options.out !== undefined) {
    if (!/\.walk\.geojson$/i.test(options.out))
      throw new Fault(
        "bad-argument",
        "This is no name of a walk file.",
        basename(options.out),
        "End it in .walk.geojson.",
      );
    await checkFolderOf(options.out);
  }
  const toleranceM = options.tolerance === undefined ? null : parseLength(options.tolerance);
  const size = await stat(path).then(
    (found) => found.size,
    (error: unknown) => {
      throw fileFault(error, path, "could not be read");
    },
  );
  if (size > READ_LIMITS.mostBytes)
    throw new Fault("bad-features", "The file is larger than 64 MB.", name, "Save a shorter part of it.");
  const exchange = await readExchange(await readInput(path), name, {
    ...READ_LIMITS,
    axes: options.axes ?? null,
    exchanged: options.exchanged ?? null,
    encoding: options.encoding ?? null,
    frame: await frameOf(options),
    table: tableWish(options.dialect),
  });
  if (options.out === undefined) {
    for (const told of exchange.report) say(`note: ${told}`);
    return await deliver(listOf(exchange), undefined);
  }
  const { walk, report } = walkFrom(exchange, {
    pick: pickOf(exchange, options.pick, name),
    toleranceM,
    date: new Date().toISOString().slice(0, 10),
    fallbackTitle: name.replace(/\.[^.]*$/, ""),
  });
  await deliver(formatWalk(walk), options.out);
  for (const told of report) say(`note: ${told}`);
}

async function frameOf({ grid, datum }: ImportOptions): Promise<FileFrame | null> {
  if (grid !== undefined && datum !== undefined)
    throw new Fault("bad-argument", "A grid says its datum itself.", "--datum", "Leave one of the two out.");
  if (datum !== undefined) {
    if (!isOfferedGrid(datum))
      throw new Fault(
        "bad-argument",
        `There is no datum called “${datum}”.`,
        "--datum",
        `Name one of ${OFFERED_GRIDS.join(", ")}.`,
      );
    return datumFrame(datum);
  }
  return grid === undefined ? null : gridFrame((await namedGrid(grid)).at(null));
}

function pickOf(exchange: Exchange, pick: string | undefined, name: string): number {
  if (pick !== undefined) {
    if (!/^[1-9]\d{0,6}$/.test(pick))
      throw new Fault("bad-argument", `“${pick}” is no number of the list.`, "--pick");
    return Number(pick) - 1;
  }
  if (exchange.candidates.length === 1) return 0;
  process.stderr.write(listOf(exchange));
  throw new Fault(
    "bad-argument",
    `The file holds ${exchange.candidates.length} that could be the walk.`,
    name,
    "Choose one with --pick and its number.",
  );
}

/** "1  route  Over the moor  12 points  3.4 km  46.33..46.35 -133.2..-133.1". */
function listOf(exchange: Exchange): string {
  return exchange.candidates
    .map(({ kind, name, positions, lengthM, bounds, times }, i) => {
      const [west, south, east, north] = bounds.map((degrees) => degrees.toFixed(4));
      const said = oneLine(name ?? "without a name").slice(0, 80);
      const when = times ? `, ${oneLine(times.join(" to "))}` : "";
      return `${i + 1}  ${kind}: ${said}; points: ${positions.length}; ${formatLength(lengthM)}; latitude ${south} to ${north}, longitude ${west} to ${east}${when}\n`;
    })
    .join("");
}
