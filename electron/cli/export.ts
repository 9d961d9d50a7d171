import { basename, extname } from "node:path";
import { type Dialect, PLAIN_DIALECT } from "../../core/exchange/write-csv.ts";
import {
  EXCHANGE_FORMATS,
  type ExchangeFormat,
  NOT_CARRIED,
  writeExchange,
} from "../../core/exchange/write-exchange.ts";
import { Fault } from "../../core/fault.ts";
import { parseWalk } from "../../core/walk/walk-file.ts";
import { checkFolderOf, deliver } from "./product.ts";
import { readInputText } from "./read-input.ts";
import { say } from "./say.ts";

export interface ExportOptions {
  readonly out: string;
  readonly waypoints?: true;
  readonly track?: true;
  readonly dialect?: readonly string[];
}

/** `export WALK --out FILE`: the format is the ending's. */
export async function exportWalk(walkPath: string, options: ExportOptions): Promise<void> {
  const format = formatOf(options.out);
  if (format !== "gpx" && (options.waypoints || options.track))
    throw new Fault("bad-argument", "Waypoints and tracks belong to GPX.", basename(options.out));
  if (format !== "csv" && format !== "tsv" && options.dialect)
    throw new Fault("bad-argument", "A dialect belongs to CSV and TSV.", basename(options.out));
  const dialect = dialectOf(options.dialect ?? []);
  await checkFolderOf(options.out);
  const today = new Date().toISOString().slice(0, 10);
  const { walk, repairs } = parseWalk(await readInputText(walkPath), basename(walkPath), today);
  for (const repair of repairs) say(`note: ${repair}`);
  const parts = {
    waypoints: options.waypoints === true,
    track: options.track === true,
    elevationsM: null,
  };
  await deliver(writeExchange(walk, format, parts, dialect), options.out);
  say(`note: ${NOT_CARRIED}`);
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
      dialect = { ...dialect, headers: { name, lat, lon, note } };
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
