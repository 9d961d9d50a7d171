/**
 * Reads elevation models of the Esri ASCII grid kind (.asc): a header of words and numbers, then the heights, rows from
 * the north.
 * Source: the format's description in the GDAL manual (AAIGrid) and in Esri's ArcGIS help, "Esri ASCII raster format".
 */
import { Fault } from "../../fault.ts";
import {
  type ElevationFile,
  type ElevationModel,
  FOOT_M,
  MOST_SAMPLES,
  type ReadOptions,
} from "./elevation-model.ts";
import { findCrs } from "./grid-crs.ts";

/** A header has five to eight short lines. No source. */
const HEADER_BYTES = 4096;
const PIECE_BYTES = 2 ** 20;

const latin1 = new TextDecoder("latin1");

interface Header {
  readonly values: ReadonlyMap<string, number>;
  /** Where the heights begin, and on which line. */
  readonly bytes: number;
  readonly lines: number;
}

/** Whether a file begins as an ASCII grid does. */
export const looksLikeAscii = (start: Uint8Array): boolean =>
  /^\uFEFF?\s*(?:ncols|nrows|xll\w+|yll\w+|cellsize|nodata_value|dx|dy)\s+/i.test(
    latin1.decode(start.subarray(0, 256)).replace(/^ï»¿/, ""),
  );

function headerOf(text: string, key: string): Header {
  const values = new Map<string, number>();
  let [at, lines] = [0, 0];
  while (at < text.length) {
    const end = text.indexOf("\n", at);
    const line = text
      .slice(at, end < 0 ? text.length : end)
      .replace(/^ï»¿/, "")
      .trim();
    const [, word, number] = /^([a-z_]+)\s+(\S+)$/i.exec(line) ?? [];
    if (line !== "" && (word === undefined || number === undefined || /^nan$/i.test(line))) break;
    if (word !== undefined && number !== undefined) {
      const value = Number(number);
      const comma = /^-?\d+,\d+$/.test(number);
      if (!Number.isFinite(value) && !(word.toLowerCase() === "nodata_value" && /^-?nan$/i.test(number)))
        throw new Fault(
          "bad-elevation",
          `“${number.slice(0, 40)}” is no number for ${word}.`,
          `${key}, line ${lines + 1}`,
          comma ? "Write decimals with a point, not with a comma." : "Correct the header of the file.",
        );
      values.set(word.toLowerCase(), value);
    }
    if (end < 0) return { values, bytes: text.length, lines: lines + 1 };
    at = end + 1;
    lines++;
  }
  return { values, bytes: at, lines };
}

/**
 * @throws Fault "bad-elevation" for a header that lacks something or a file too short for what it claims,
 *   "no-crs" when neither a .prj file nor the options say where on earth it lies
 */
export async function openAscii(file: ElevationFile, options: ReadOptions): Promise<ElevationModel> {
  const { key } = file;
  const fail = (what: string, remedy: string | null = null, line?: number): never => {
    throw new Fault("bad-elevation", what, line === undefined ? key : `${key}, line ${line}`, remedy);
  };
  const { values, bytes: bodyAt, lines } = headerOf(latin1.decode(await file.read(0, HEADER_BYTES)), key);
  const number = (name: string): number =>
    values.get(name) ??
    fail(`The header does not give ${name}.`, "It has ncols, nrows, xllcorner, yllcorner and cellsize.");
  const columns = number("ncols");
  const rows = number("nrows");
  if (!Number.isInteger(columns) || !Number.isInteger(rows) || columns < 1 || rows < 1)
    fail(`The header claims ${columns} columns and ${rows} rows.`);
  // Each height takes a figure and a space at least.
  if (columns * rows > MOST_SAMPLES || file.sizeBytes - bodyAt < 2 * columns * rows - 1)
    fail(
      `The header claims ${columns} by ${rows} heights, and the file has ${file.sizeBytes} bytes: it was cut off, or is damaged.`,
      "Copy or download it again.",
    );
  const xStep = values.get("dx") ?? number("cellsize");
  const yStep = values.get("dy") ?? number("cellsize");
  if (!(xStep > 0) || !(yStep > 0)) fail(`The header gives cells of ${xStep} by ${yStep}.`);
  const centred = (axis: "x" | "y"): number =>
    values.get(`${axis}llcenter`) ?? number(`${axis}llcorner`) + (axis === "x" ? xStep : yStep) / 2;
  const noData = values.get("nodata_value") ?? Number.NaN;
  const named = options.crs ?? file.prj ?? null;
  if (named === null)
    throw new Fault(
      "no-crs",
      "An ASCII grid does not say where on earth it lies, and no .prj file lies beside it.",
      key,
      "Name its coordinate system with --crs, for example --crs EPSG:32611.",
    );
  const where = options.crs === undefined ? key.replace(/\.[^.]*$/, ".prj") : key;
  const crs = await findCrs(named, where, options.epsg);
  const unitM = options.heightUnit === "ft" ? FOOT_M : 1;
  return {
    key,
    columns,
    rows,
    origin: [centred("x"), centred("y") + (rows - 1) * yStep],
    step: [xStep, -yStep],
    crs,
    notes: [],
    sequential: true,
    async heights(window, tick) {
      const heights = new Float32Array(window.columns * window.rows);
      const [east, south] = [window.column + window.columns, window.row + window.rows];
      let [column, row, line] = [0, 0, lines + 1];
      const take = (token: string): void => {
        if (row >= rows) fail(`There are more heights than ${columns} by ${rows}.`, null, line);
        const value = Number(token);
        const isVoid = value === noData || /^[+-]?(?:nan|inf|1\.#\w+)/i.test(token);
        if (!isVoid && !Number.isFinite(value))
          fail(
            `“${token.slice(0, 40)}” is no height.`,
            /^-?\d+,\d+$/.test(token) ? "Write decimals with a point, not with a comma." : null,
            line,
          );
        if (column >= window.column && column < east && row >= window.row && row < south)
          heights[(row - window.row) * window.columns + column - window.column] = isVoid
            ? Number.NaN
            : value * unitM;
        if (++column === columns) {
          column = 0;
          row++;
        }
      };
      const taken = (): boolean => row >= south;
      let rest = "";
      for (let at = bodyAt; at < file.sizeBytes; at += PIECE_BYTES) {
        // Beyond the part wanted only surplus is looked for, and only where that part ends with the grid.
        if (taken() && south < rows) break;
        const piece = rest + latin1.decode(await file.read(at, Math.min(PIECE_BYTES, file.sizeBytes - at)));
        const last = at + PIECE_BYTES >= file.sizeBytes;
        // What may go on in the next piece waits for it.
        const cut = last ? piece.length : piece.search(/\S*$/);
        if (piece.length - cut > 1000) fail("There is a word of over 1000 letters.", null, line);
        rest = piece.slice(cut);
        for (const [token] of piece.slice(0, cut).matchAll(/[^\s]+|\n/g))
          if (token === "\n") line++;
          else if (!taken() || south === rows) take(token);
        await tick?.(Math.min(1, row / south));
      }
      if (row < south)
        fail(
          `The file ends after ${row * columns + column} of ${columns * rows} heights: it was cut off.`,
          "Copy or download it again.",
          line,
        );
      return heights;
    },
  };
}
