/** Papers a field sheet is printed on. */
import { Fault } from "../../fault.ts";

/** Millimetres, portrait. A-sizes by ISO 216; Letter, Legal and Tabloid by ANSI/ASME Y14.1 and common use: 8.5 × 11, 8.5 × 14, 11 × 17 inches. */
export const PAPERS = {
  a5: [148, 210],
  a4: [210, 297],
  a3: [297, 420],
  letter: [215.9, 279.4],
  legal: [215.9, 355.6],
  tabloid: [279.4, 431.8],
} as const satisfies Record<string, readonly [widthMm: number, heightMm: number]>;
export type PaperName = keyof typeof PAPERS;

export interface PaperSize {
  readonly widthMm: number;
  readonly heightMm: number;
}

/**
 * A paper's size as it lies.
 * @throws Fault "bad-argument" for a name that is none of `PAPERS`
 */
export function paperSize(name: string, landscape = false): PaperSize {
  const key = name.trim().toLowerCase();
  if (!Object.hasOwn(PAPERS, key))
    throw new Fault(
      "bad-argument",
      `There is no paper called “${name}” here.`,
      null,
      `Choose one of ${Object.keys(PAPERS).join(", ")}.`,
    );
  const [short, long] = PAPERS[key as PaperName];
  return landscape ? { widthMm: long, heightMm: short } : { widthMm: short, heightMm: long };
}
