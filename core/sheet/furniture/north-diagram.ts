/**
 * True, grid and magnetic north drawn from one point at their real angles on this sheet, with what they mean in words.
 * Source of the rule: US Army TC 3-25.26 (2013), para 6-10 to 6-14. Diagrams there are not to scale; this one is.
 */
import { northRule } from "../../geodesy/north-rule.ts";
import type { DeclinationFigure } from "../../legs/figures.ts";
import { DEG, normalise180 } from "../../units/angle.ts";
import { formatEastWest, formatNumber } from "../../units/format.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";
import { lineShape, type PageItem, points, type Rect } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { magneticOnPageDeg } from "./magnetic-lines.ts";
import { BLACK, type Paragraph, textAt } from "./set-text.ts";

export interface NorthLine {
  readonly north: "true" | "grid" | "magnetic";
  /** On the page, degrees clockwise from straight up. */
  readonly deg: number;
}

/** The three norths on the page, from left to right; no magnetic one where declination cannot be had. */
export function northLines(frame: SheetFrame, declinationDeg: number | null): NorthLine[] {
  const lines: NorthLine[] = [
    { north: "true", deg: -frame.convergenceDeg - frame.turnDeg },
    { north: "grid", deg: -frame.turnDeg },
  ];
  if (declinationDeg !== null)
    lines.push({ north: "magnetic", deg: magneticOnPageDeg(frame, declinationDeg) });
  // Seen from grid north, so that a turned sheet orders them alike.
  return lines.sort((a, b) => normalise180(a.deg + frame.turnDeg) - normalise180(b.deg + frame.turnDeg));
}

const LABEL_PT = 7.5;

/** The diagram in its place. The outer lines are a little shorter, so that each has its name at its end. */
export function northDiagram(
  frame: SheetFrame,
  declinationDeg: number | null,
  at: Rect,
  ruler: TextRuler,
): PageItem[] {
  const lines = northLines(frame, declinationDeg);
  const size = points(LABEL_PT);
  const cap = ruler.capHeightMm("text", size);
  const drawn = lines.map(({ north, deg }, i) => {
    const place = lines.length === 3 ? (["left", "middle", "right"] as const)[i] : i === 0 ? "left" : "right";
    const reach = place === "middle" ? 1 : 0.78;
    const width = ruler.widthMm(north, "text", size);
    const [ux, uy] = [Math.sin(deg * DEG), -Math.cos(deg * DEG)];
    // Along the direction square to grid north, so that names do not move over one another on a turned sheet.
    const [rx, ry] = [Math.cos(frame.turnDeg * DEG), -Math.sin(frame.turnDeg * DEG)];
    const aside = place === "left" ? -1 : place === "right" ? 1 : 0;
    const off = width / 2 + 1.6;
    const lift = place === "middle" ? cap / 2 + 2 + (Math.abs(ux) * width) / 2 : 0;
    return {
      north,
      tip: [ux * reach, uy * reach] as const,
      dir: [ux, uy] as const,
      // Middle of the name, millimetres from the tip.
      name: [aside * rx * off + ux * lift, aside * ry * off + uy * lift] as const,
      half: width / 2,
    };
  });
  // The longest lines with which tips and names stay in the box, the point where they meet moved to suit.
  const bounds = (length: number): readonly [number, number, number, number] => {
    const xs = [
      0,
      ...drawn.flatMap((d) => [
        d.tip[0] * length + d.name[0] - d.half,
        d.tip[0] * length + d.name[0] + d.half,
        d.tip[0] * length,
      ]),
    ];
    const ys = [
      0,
      ...drawn.flatMap((d) => [
        d.tip[1] * length + d.name[1] - cap,
        d.tip[1] * length + d.name[1] + cap,
        d.tip[1] * length,
      ]),
    ];
    return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
  };
  let length = 30;
  let box = bounds(length);
  while (length > 4 && (box[2] - box[0] > at.width || box[3] - box[1] > at.height))
    box = bounds((length -= 0.25));
  const x0 = at.x + (at.width - (box[2] - box[0])) / 2 - box[0];
  const y0 = at.y - box[1];
  const items: PageItem[] = [];
  for (const { north, tip, dir, name } of drawn) {
    const [tx, ty] = [x0 + tip[0] * length, y0 + tip[1] * length];
    items.push({
      kind: "group",
      name: `${north} north`,
      items: [{ kind: "shape", shape: lineShape([x0, y0], [tx, ty]), stroke: { ink: BLACK, widthMm: 0.2 } }],
    });
    items.push(...markAt(north, [tx, ty], dir));
    items.push(textAt(north, [tx + name[0], ty + name[1] + cap / 2], { pt: LABEL_PT, anchor: "middle" }));
  }
  return items;
}

/** A star for true, an arrow for magnetic, a bar for grid north: told apart without colour. */
function markAt(
  north: NorthLine["north"],
  [x, y]: readonly [number, number],
  [ux, uy]: readonly [number, number],
): PageItem[] {
  const ring = (flat: readonly number[]): PageItem => ({
    kind: "shape",
    shape: { parts: [Float64Array.from(flat)], closed: true },
    fill: BLACK,
  });
  if (north === "true") {
    const star: number[] = [];
    for (let i = 0; i < 10; i++) {
      const [angle, r] = [i * 36 * DEG, i % 2 === 0 ? 1.2 : 0.5];
      star.push(x + r * Math.sin(angle), y - r * Math.cos(angle));
    }
    return [ring(star)];
  }
  if (north === "magnetic")
    return [
      ring([
        x + ux * 0.6,
        y + uy * 0.6,
        x - ux * 2 - uy * 0.8,
        y - uy * 2 + ux * 0.8,
        x - ux * 2 + uy * 0.8,
        y - uy * 2 - ux * 0.8,
      ]),
    ];
  return [
    {
      kind: "shape",
      shape: lineShape([x + uy * 0.9, y - ux * 0.9], [x - uy * 0.9, y + ux * 0.9]),
      stroke: { ink: BLACK, widthMm: 0.3 },
    },
  ];
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/**
 * What stands beside the diagram: the rule for this sheet first, then declination with day, model and error, convergence,
 * what a compass is worth near the poles, and that the drawing may be measured.
 */
export function northWords(
  frame: SheetFrame,
  declination: DeclinationFigure,
  date: string,
  across: string | null,
): Paragraph[] {
  const { deg, uncertaintyDeg, annualChangeDeg, model, from, beyondModel, zone } = declination;
  const convergence = frame.convergenceDeg;
  const grid =
    Math.abs(convergence) < 0.05
      ? "Grid and true north agree here."
      : `Grid north lies ${formatEastWest(convergence)} of true north.`;
  const warning: Paragraph[] =
    zone === "blackout"
      ? [{ text: "So near a magnetic pole a compass is useless here.", face: "textBold" }]
      : zone === "caution"
        ? [{ text: "So near a magnetic pole a compass may be unreliable here.", face: "textBold" }]
        : [];
  if (deg === null)
    return [
      { text: "Declination not known: there is no magnetic north on this sheet.", face: "textBold" },
      ...warning,
      { text: grid },
    ];
  const rule = northRule(normalise180(deg - convergence), "grid", 1);
  const error = uncertaintyDeg === null ? "" : ` ± ${formatNumber(uncertaintyDeg, 1)}°`;
  const source =
    from === "printed"
      ? "from the map’s margin"
      : `${model ?? "model not named"}${beyondModel ? " carried on beyond its years" : ""}`;
  const change = annualChangeDeg === null ? "" : `, changing by ${formatEastWest(annualChangeDeg, 2)} a year`;
  return [
    { text: `${capital(rule.reason)}.` },
    { text: `${capital(rule.toMagnetic)}; ${rule.fromMagnetic}.`, face: "textBold" },
    ...warning,
    { text: `Declination ${formatEastWest(deg)}${error} on ${date} (${source})${change}.` },
    ...(across ? [{ text: across }] : []),
    { text: `${grid} Drawn at the real angles.` },
  ];
}
