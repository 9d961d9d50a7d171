import { readFileSync } from "node:fs";
import fc from "fast-check";
import type { ExchangeFormat } from "../../../core/exchange/write-exchange.ts";
import { writeExchange } from "../../../core/exchange/write-exchange.ts";
import { type Dialect, PLAIN_DIALECT } from "../../../core/exchange/write-csv.ts";
import { type ExchangeParts, USUAL_PARTS } from "../../../core/exchange/parts.ts";
import { readExchange } from "../../../core/exchange/read-exchange.ts";
import { walkFrom } from "../../../core/exchange/walk-from.ts";
import { emptyWalk, NOTHING_UNKNOWN, type Walk } from "../../../core/walk/walk.ts";

export const fixture = (name: string): Uint8Array =>
  new Uint8Array(readFileSync(new URL(`../../fixtures/exchange/${name}`, import.meta.url)));

export type P = readonly [name: string | null, lon: number, lat: number, note?: string];

export const walkOf = (title: string, notes: string, points: readonly P[]): Walk => ({
  ...emptyWalk("2026-05-16"),
  title,
  notes,
  points: points.map(([name, lon, lat, note = ""], i) => ({
    id: `p${i + 1}`,
    name,
    lonLat: [lon, lat],
    note,
    unknown: NOTHING_UNKNOWN,
    aimOff: false,
    instruction: null,
    unknownOfLeg: NOTHING_UNKNOWN,
  })),
});

/** What each format needs to bring a walk back. */
export const NO_PARTS: ExchangeParts = USUAL_PARTS;

export const bytesOf = (product: string | Uint8Array): Uint8Array =>
  typeof product === "string" ? new TextEncoder().encode(product) : product;

export async function thereAndBack(
  walk: Walk,
  format: ExchangeFormat,
  dialect: Dialect = PLAIN_DIALECT,
  parts = NO_PARTS,
): Promise<Walk> {
  const exchange = await readExchange(bytesOf(writeExchange(walk, format, parts, dialect)), `w.${format}`);
  return walkFrom(exchange, { pick: 0, toleranceM: null, date: "2026-05-16", fallbackTitle: "w" }).walk;
}

/** Any letters at all, signs that mean something in one of the formats among them. */
const anyText = fc
  .array(
    fc.oneof(
      fc.constantFrom(
        "=",
        "+",
        "-",
        "@",
        "\t",
        "'",
        '"',
        ",",
        ";",
        "\n",
        "<",
        "&",
        "]]>",
        "\r\n",
        "\0",
        "\ud800",
      ),
      fc.string({ unit: "binary", maxLength: 4 }),
    ),
    { maxLength: 8 },
  )
  .map((pieces) => pieces.join(""));
const degrees = (most: number): fc.Arbitrary<number> =>
  fc.double({ min: -most, max: most, noNaN: true, noDefaultInfinity: true });

export const anyWalk: fc.Arbitrary<Walk> = fc
  .tuple(
    anyText,
    anyText,
    fc.array(fc.tuple(fc.option(anyText), degrees(179.999999), degrees(89), anyText), {
      minLength: 2,
      maxLength: 8,
    }),
  )
  .map(([title, notes, points]) => walkOf(title, notes, points));
