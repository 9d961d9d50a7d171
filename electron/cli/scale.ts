import { Fault } from "../../core/fault.ts";
import { formatNumber, formatQuantity } from "../../core/units/format.ts";
import { fromMetres, parseLength } from "../../core/units/length.ts";
import {
  feetPerInch,
  formatScale,
  groundLength,
  inchesPerMile,
  millimetresPerKm,
  paperLength,
  parseScale,
  scaleFromLengths,
} from "../../core/units/scale.ts";
import { deliver } from "./product.ts";
import { row } from "./rows.ts";

export interface ScaleOptions {
  readonly ruler?: string;
  readonly ground?: string;
  readonly format?: "text" | "json";
}

/** `scale [SCALE]`: from the ruler to the ground and back, or the scale of a map from a distance known on the ground. */
export async function scale(text: string | undefined, options: ScaleOptions): Promise<void> {
  const ruler = lengthOf(options.ruler);
  const ground = lengthOf(options.ground);
  const denominator = text === undefined ? unknownScale(ruler, ground) : parseScale(text);
  const found = {
    scale: denominator,
    fromLengths: text === undefined,
    rulerM: ruler,
    groundM: ground,
    // What the other length is at this scale; with neither given there is nothing to turn.
    groundOfRulerM: ruler === null ? null : groundLength(ruler, denominator),
    rulerOfGroundM: ground === null ? null : paperLength(ground, denominator),
    millimetresPerKm: millimetresPerKm(denominator),
    feetPerInch: feetPerInch(denominator),
    inchesPerMile: inchesPerMile(denominator),
  };
  if (options.format === "json") return await deliver(`${JSON.stringify(found, null, 2)}\n`, undefined);
  const known = text !== undefined;
  const lines = [
    row("Scale", formatScale(Number(denominator.toPrecision(known ? 12 : 4)))),
    row(
      "On the ruler",
      `${figure(found.millimetresPerKm)} mm are 1 km; ${figure(found.inchesPerMile)} in are 1 mile`,
    ),
    row("On the ground", `1 mm is ${figure(denominator / 1000)} m; 1 in is ${figure(found.feetPerInch)} ft`),
    ...(known && ruler !== null
      ? [row("Ruler to ground", `${paper(ruler)} is ${onGround(ruler * denominator)}`)]
      : []),
    ...(known && ground !== null
      ? [row("Ground to ruler", `${onGround(ground)} is ${paper(ground / denominator)}`)]
      : []),
  ];
  await deliver(lines.map((line) => `${line}\n`).join(""), undefined);
}

function unknownScale(ruler: number | null, ground: number | null): number {
  if (ruler !== null && ground !== null) return scaleFromLengths(ruler, ground);
  throw new Fault(
    "bad-argument",
    "The scale is missing.",
    null,
    "Write it first, such as 1:25000, or give both --ruler and --ground to work it out.",
  );
}

/** Metres; null when not given. @throws Fault "bad-argument" for what is no length above 0, or has no unit */
function lengthOf(text: string | undefined): number | null {
  if (text === undefined) return null;
  const metres = parseLength(text);
  if (metres > 0) return metres;
  throw new Fault("bad-argument", `“${text}” is no length: it must be more than 0.`);
}

/** Four figures that count, without noughts at the end. */
const figure = (value: number): string => {
  const decimals = Math.max(0, 3 - Math.floor(Math.log10(value)));
  return formatNumber(value, Math.min(decimals, 6))
    .replace(/(\.\d*?)0+$/, "$1")
    .replace(/\.$/, "");
};

const paper = (metres: number): string =>
  `${figure(fromMetres(metres, "mm"))} mm / ${figure(fromMetres(metres, "in"))} in`;

const onGround = (metres: number): string =>
  [
    metres < 1000 ? `${figure(metres)} m` : `${figure(metres / 1000)} km`,
    metres < 1609.344
      ? `${figure(fromMetres(metres, "ft"))} ft`
      : formatQuantity(fromMetres(metres, "mi"), "mi", 2),
  ].join(" / ");
