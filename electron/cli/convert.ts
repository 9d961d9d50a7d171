import { Fault } from "../../core/fault.ts";
import { formatBritish } from "../../core/geodesy/british-reference.ts";
import { formatPosition, type PositionNotation } from "../../core/geodesy/format-position.ts";
import { britishGrid, type Grid, type GridPosition, toGrid } from "../../core/geodesy/grid.ts";
import { type MgrsPrecision, spaceMgrs } from "../../core/geodesy/mgrs.ts";
import { inOfferedArea } from "../../core/geodesy/offered-grids.ts";
import { toUtm, type Utm } from "../../core/geodesy/utm.ts";
import { formatEastWest, formatNumber, formatQuantity } from "../../core/units/format.ts";
import type { LonLat } from "../../core/units/position.ts";
import { namedGrid, type NamedGrid } from "./named-grid.ts";
import type { ReadAs, WriteAs } from "./notations.ts";
import { deliver } from "./product.ts";
import { readPosition, type ReadPosition } from "./read-position.ts";
import { plain, row } from "./rows.ts";
import { oneLine, say } from "./say.ts";

export interface ConvertOptions {
  readonly from?: ReadAs;
  readonly near?: string;
  readonly to?: WriteAs;
  readonly grid?: string;
  readonly precision?: string;
  readonly format?: "text" | "json";
}

interface InGrid extends GridPosition {
  readonly title: string;
  readonly definition: string;
  /** Metres in the unit the grid counts in; easting and northing here are metres all the same. */
  readonly unitM: number;
  readonly accuracyM: number | null;
  readonly accuracySource: string | null;
}

interface Converted extends ReadPosition {
  readonly written: Readonly<Record<PositionNotation, string>>;
  readonly utm: Utm;
  readonly british: (InGrid & { readonly reference: string }) | null;
  readonly grid: InGrid | null;
  readonly notes: readonly string[];
}

/**
 * `convert POSITION…`: each position in every notation, with its grids.
 * @param positions one each; none reads standard input, one a line
 */
export async function convert(positions: readonly string[], options: ConvertOptions): Promise<void> {
  const named = options.grid === undefined ? null : await namedGrid(options.grid);
  const reading = {
    from: options.from ?? "any",
    near:
      options.near === undefined
        ? null
        : readPosition(options.near, { from: "any", near: null, grid: null }).lonLat,
    grid: named,
  };
  const to = options.to ?? "all";
  if (to === "grid" && !named)
    throw new Fault(
      "bad-argument",
      "The grid to write positions in is missing.",
      null,
      "Name it with --grid.",
    );
  const precision = options.precision === undefined ? null : (Number(options.precision) as MgrsPrecision);
  const texts = await textsOf(positions);
  const converted = texts.map(({ text, line }) =>
    placed(line, () => convertOne(readPosition(text, reading), named, precision)),
  );
  if (options.format === "json")
    return await deliver(`${JSON.stringify({ positions: converted }, null, 2)}\n`, undefined);
  if (to === "all") return await deliver(converted.map(inFull).join("\n"), undefined);
  const lines = converted.map((one, i) => placed(texts[i]?.line ?? null, () => `${plain(asked(one, to))}\n`));
  for (const note of new Set(converted.flatMap((one) => notesFor(one, to)))) say(`note: ${plain(note)}`);
  await deliver(lines.join(""), undefined);
}

interface Text {
  readonly text: string;
  /** Of standard input, or of several arguments, to be found again; null for the only one. */
  readonly line: string | null;
}

async function textsOf(positions: readonly string[]): Promise<Text[]> {
  if (positions.length === 1) return [{ text: positions[0] as string, line: null }];
  if (positions.length > 1) return positions.map((text, i) => ({ text, line: `position ${i + 1}` }));
  if (process.stdin.isTTY)
    throw new Fault(
      "bad-argument",
      "There is no position to convert.",
      null,
      "Write one in quotes, such as “47.3769 N 8.5417 E”, or pipe in one a line.",
    );
  process.stdin.setEncoding("utf8");
  let all = "";
  for await (const part of process.stdin) all += part as string;
  return all
    .split(/\r?\n/)
    .map((text, i) => ({ text, line: `line ${i + 1}` }))
    .filter(({ text }) => text.trim() !== "");
}

/** @throws the same Fault, saying at which of several positions */
function placed<T>(line: string | null, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (line === null || !(error instanceof Fault)) throw error;
    const { code, what, where, remedy } = error;
    throw new Fault(code, what, where === null ? line : `${line}: ${where}`, remedy);
  }
}

function convertOne(read: ReadPosition, named: NamedGrid | null, asked: MgrsPrecision | null): Converted {
  const { lonLat } = read;
  // A reference to 100 m is not turned into one to a metre unless that is asked for.
  const precision = asked ?? (Math.min(Math.max(read.precisionM ?? 1, 1), 100_000) as MgrsPrecision);
  const coarser = Math.log10(precision);
  const written = (notation: "dd" | "dm" | "dms", decimals: number): string =>
    formatPosition(lonLat, notation, Math.max(0, decimals - coarser));
  const caution = named?.caution(lonLat) ?? null;
  return {
    ...read,
    reference: read.reference === null ? null : spaceMgrs(read.reference),
    written: {
      mgrs: formatPosition(lonLat, "mgrs", precision),
      utm: formatPosition(lonLat, "utm"),
      dd: written("dd", 5),
      dm: written("dm", 3),
      dms: written("dms", 1),
    },
    utm: toUtm(lonLat),
    british: british(lonLat, precision, read.notation === "british"),
    grid: named && inGrid(named.at(lonLat), lonLat),
    notes: caution === null ? [] : [caution],
  };
}

function inGrid(grid: Grid, lonLat: LonLat): InGrid {
  const { title, definition, accuracyM, accuracySource, projection } = grid;
  return { title, definition, unitM: projection.unitM, accuracyM, accuracySource, ...toGrid(grid, lonLat) };
}

/** Null off the grid. Not offered across the sea, where nobody uses it, unless the position came from it. */
function british(lonLat: LonLat, precision: number, always: boolean): Converted["british"] {
  if (!always && !inOfferedArea("british", lonLat)) return null;
  const at = inGrid(britishGrid(), lonLat);
  try {
    return { reference: formatBritish([at.eastingM, at.northingM], precision), ...at };
  } catch (error) {
    if (error instanceof Fault && error.code === "out-of-range") return null;
    throw error;
  }
}

const unitName = (unitM: number): string =>
  unitM === 1 ? "m" : Math.abs(unitM - 0.3048) < 1e-5 ? "ft" : `units of ${unitM} m`;

const figures = ({ eastingM, northingM, unitM }: InGrid): string =>
  [eastingM, northingM].map((m) => (m / unitM).toFixed(0)).join(" ");

function asked(one: Converted, to: Exclude<WriteAs, "all">): string {
  if (to === "grid") return figures(one.grid as InGrid);
  if (to !== "british") return one.written[to];
  if (!one.british) throw new Fault("out-of-range", "The place lies off the British grid.", `“${one.input}”`);
  return one.british.reference;
}

/** What must be known beside a bare reference on a datum that is not WGS 84. */
function notesFor(one: Converted, to: WriteAs): readonly string[] {
  const grid = to === "british" ? one.british : to === "grid" ? one.grid : null;
  return grid ? [...one.notes, `${grid.title}: ${accuracy(grid)}`] : [];
}

const accuracy = ({ accuracyM, accuracySource }: InGrid): string =>
  accuracyM === null
    ? "how accurate its datum is, its definition does not say"
    : `good to about ${formatQuantity(accuracyM, "m", accuracyM % 1 ? 1 : 0)} (${accuracySource ?? "no source"})`;

function inFull(one: Converted): string {
  const { utm, written, british: osgb, grid } = one;
  const zone = utm.zone === 0 ? "UPS" : `UTM zone ${utm.zone}`;
  const factors = (label: string, { convergenceDeg, scale }: GridPosition | Utm): string[] => [
    row("  Convergence", `${formatEastWest(convergenceDeg, 3)} (${label} north from true north)`),
    row("  Scale factor", formatNumber(scale, 6)),
  ];
  const side = one.precisionM !== null && `a square of ${length(one.precisionM)}, its middle is taken`;
  const reference = one.notation === "mgrs" && one.reference;
  const lines = [
    oneLine(one.input),
    ...(side ? [row("  Read as", [reference, side].filter(Boolean).join(": "))] : []),
    row("  MGRS, USNG", written.mgrs),
    row("  UTM, UPS", written.utm),
    row("  Degrees", written.dd),
    row("  and minutes", written.dm),
    row("  and seconds", written.dms),
    row("  Grid", `${zone} on WGS 84; no error beyond the rounding`),
    ...factors(zone, utm),
    ...(osgb ? [row("  British grid", osgb.reference), row("  Accuracy", accuracy(osgb))] : []),
    ...(grid
      ? [
          row("  Grid", grid.title),
          row("  Easting, northing", `${figures(grid)} ${unitName(grid.unitM)}`),
          ...factors("grid", grid),
          row("  Accuracy", accuracy(grid)),
        ]
      : []),
    ...one.notes.map((note) => row("  Note", note)),
  ];
  return lines.map((line) => `${line}\n`).join("");
}

const length = (metres: number): string =>
  metres >= 1000 ? formatQuantity(metres / 1000, "km") : formatQuantity(metres, "m", metres < 1 ? 3 : 0);
