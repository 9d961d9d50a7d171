import { basename, extname } from "node:path";
import { checkWritten } from "../../core/exchange/check-written.ts";
import { groundTrack, pointHeights } from "../../core/exchange/ground-track.ts";
import { notCarried } from "../../core/exchange/not-carried.ts";
import type { ExchangeParts } from "../../core/exchange/parts.ts";
import { type Dialect, PLAIN_DIALECT } from "../../core/exchange/write-csv.ts";
import { EXCHANGE_FORMATS, type ExchangeFormat, writeExchange } from "../../core/exchange/write-exchange.ts";
import { Fault } from "../../core/fault.ts";
import { legSettingsOf } from "../../core/legs/leg-settings.ts";
import { walkFigures } from "../../core/legs/walk-figures.ts";
import { legEndsOf } from "../../core/walk/leg-ends.ts";
import type { Walk } from "../../core/walk/walk.ts";
import { parseWalk } from "../../core/walk/walk-file.ts";
import { checkFolderOf, deliver } from "./product.ts";
import { readInputText } from "./read-input.ts";
import { say } from "./say.ts";
import { groundOf } from "./walk-ground.ts";

export interface ExportOptions {
  readonly out: string;
  readonly waypoints?: true;
  readonly track?: true;
  readonly heights?: true;
  readonly map?: string;
  /** False with --no-notes. */
  readonly notes: boolean;
  readonly dialect?: readonly string[];
}

/** `export WALK --out FILE`: the format is the ending's. */
export async function exportWalk(walkPath: string, options: ExportOptions): Promise<void> {
  const format = formatOf(options.out);
  const table = format === "csv" || format === "tsv";
  if (format !== "gpx" && options.waypoints)
    throw new Fault("bad-argument", "Waypoints belong to GPX.", basename(options.out));
  if (table && options.track)
    throw new Fault("bad-argument", "A table holds points, no track.", basename(options.out));
  if (!table && options.dialect)
    throw new Fault("bad-argument", "A dialect belongs to CSV and TSV.", basename(options.out));
  const dialect = dialectOf(options.dialect ?? []);
  await checkFolderOf(options.out);
  const today = new Date().toISOString().slice(0, 10);
  const { walk, repairs } = parseWalk(await readInputText(walkPath), basename(walkPath), today);
  for (const repair of repairs) say(`note: ${repair}`);
  const parts: ExchangeParts = {
    points: format !== "gpx" || options.waypoints === true,
    legs: true,
    notes: options.notes,
    ...(await groundAlong(walk, options)),
  };
  const product = writeExchange(walk, format, parts, dialect);
  await checkWritten(product, walk, format, parts, dialect);
  await deliver(product, options.out);
  for (const told of notCarried(walk, format, parts)) say(`note: ${told}`);
}

/** Heights and track, where they are asked for. */
async function groundAlong(
  walk: Walk,
  { track, heights, map }: ExportOptions,
): Promise<Pick<ExchangeParts, "track" | "heightsM">> {
  if (!track && !heights) {
    if (map === undefined) return { track: null, heightsM: null };
    throw new Fault("bad-argument", "A map is of use with --track or --heights only.", "--map");
  }
  if (walk.points.length < 2)
    throw new Fault("bad-argument", "A walk of one point has no leg: there is no ground along it.");
  const { ground, note } = await groundOf(walk, map);
  if (note !== null) say(`note: ${note}`);
  const settings = legSettingsOf(walk, { graduationDeg: 1, lengthUnit: "metric" });
  const { legs } = await walkFigures(legEndsOf(walk), ground, settings);
  return { track: track ? groundTrack(legs) : null, heightsM: heights ? pointHeights(legs) : null };
}

function formatOf(out: string): ExchangeFormat {
  const ending = extname(out).slice(1).toLowerCase();
  const format = EXCHANGE_FORMATS.find((one) => one === ending);
  // The walk file itself ends so: it would be replaced by something that holds less.
  if (format && !/\.walk\.geojson$/i.test(out)) return format;
  throw new Fault(
    "bad-argument",
    "The name does not say which format is wanted.",
    basename(out),
    "End it in .gpx, .kml, .kmz, .geojson (but not .walk.geojson), .csv or .tsv.",
  );
}

function dialectOf(words: readonly string[]): Dialect {
  let dialect = PLAIN_DIALECT;
  for (const word of words) {
    const headers = /^headers=([^,]+),([^,]+),([^,]+),([^,]+)$/.exec(word);
    if (word === "semicolon") dialect = { ...dialect, separator: ";" };
    else if (word === "tab") dialect = { ...dialect, separator: "\t" };
    else if (word === "decimal-comma") dialect = { ...dialect, decimal: "," };
    else if (word === "lf") dialect = { ...dialect, lineEnd: "\n" };
    else if (word === "bom") dialect = { ...dialect, bom: true };
    else if (headers) {
      const [, name = "", lat = "", lon = "", note = ""] = headers;
      dialect = { ...dialect, headers: { ...dialect.headers, name, lat, lon, note } };
    } else
      throw new Fault(
        "bad-argument",
        `“${word}” is no word of a dialect.`,
        "--dialect",
        "Write semicolon or tab, decimal-comma, lf, bom, headers=NAME,LAT,LON,NOTE.",
      );
  }
  return dialect;
}
