/** What was written is read again and held against the walk before anybody relies on it. */
import { Fault } from "../fault.ts";
import { pointLabel, type Walk } from "../walk/walk.ts";
import { wholeText, xmlHeld } from "./clean-text.ts";
import { READ_LIMITS } from "./exchange.ts";
import type { ExchangeParts } from "./parts.ts";
import { readExchange } from "./read-exchange.ts";
import type { Dialect } from "./write-csv.ts";
import type { ExchangeFormat } from "./write-exchange.ts";

/** Nine decimals of a degree, rounded. */
const OFF_DEG = 6e-10;

/**
 * @param product as `writeExchange` gave it
 * @throws Fault "internal" when it does not give the same places and names again
 */
export async function checkWritten(
  product: string | Uint8Array,
  walk: Walk,
  format: ExchangeFormat,
  parts: ExchangeParts,
  dialect: Dialect,
): Promise<void> {
  const table = format === "csv" || format === "tsv";
  const bytes = typeof product === "string" ? new TextEncoder().encode(product) : product;
  const columns = parts.heightsM
    ? { name: 0, lat: 1, lon: 2, height: 3, note: 4 }
    : { name: 0, lat: 1, lon: 2, note: 3 };
  const separator = format === "tsv" ? "\t" : dialect.separator;
  const { candidates } = await readExchange(bytes, `written.${format}`, {
    ...READ_LIMITS,
    mostBytes: Infinity,
    exchanged: false,
    table: table ? { separator, decimal: dialect.decimal, header: true, columns } : null,
  });
  const onlyTrack = !table && !parts.points && !parts.legs;
  const places = onlyTrack
    ? (parts.track ?? []).map(({ lonLat }) => lonLat)
    : walk.points.map(({ lonLat }) => lonLat);
  const found = candidates[0];
  const lon = (degrees: number): number => (degrees === 180 ? -180 : degrees);
  const same =
    found?.positions.length === places.length &&
    found.positions.every((at, i) => {
      const place = places[i] as readonly [number, number];
      return Math.abs(lon(at[0]) - lon(place[0])) < OFF_DEG && Math.abs(at[1] - place[1]) < OFF_DEG;
    });
  const held = (text: string): string =>
    (format === "gpx" || format.startsWith("km") ? xmlHeld(text) : wholeText(text)).trim();
  const named = table || parts.points || (format === "gpx" && parts.legs);
  const names = !named || walk.points.every((_, i) => (found?.names[i] ?? "") === held(pointLabel(walk, i)));
  if (!same || !names)
    throw new Fault(
      "internal",
      `What was written as ${format.toUpperCase()} does not give the walk again: it was not kept.`,
      null,
      "Choose another format.",
    );
}
