/** Small ground seen from above, true to scale, its longer side up the page: stakes, rings within which one is right, legs, magnetic north. */
import type { FieldCourse } from "../../course/small-ground.ts";
import { stakePlaces } from "../../course/stake-places.ts";
import { DEG } from "../../units/angle.ts";
import { formatQuantity } from "../../units/format.ts";
import { formatScale } from "../../units/scale.ts";
import { BLACK, textAt } from "../furniture/set-text.ts";
import { INKS } from "../page/inks.ts";
import { group, lineShape, type PageItem, type PaperPoint, rectShape } from "../page/page.ts";

export interface FieldPlan {
  /** Drawn with the upper left corner at the origin. */
  readonly items: readonly PageItem[];
  readonly widthMm: number;
  readonly heightMm: number;
  /** Denominator of its scale. */
  readonly scale: number;
  readonly caption: string;
}

/** Round scales, so that a ruler reads the plan. */
const SCALES = [100, 200, 250, 400, 500, 1000, 2000, 2500, 5000, 10_000, 20_000];
/** The largest ground there may be fits any paper at it. */
const LARGEST = 20_000;
const AROUND_MM = 9;
const RING_STEPS = 48;
const ARROW_MM = 11;

/** @param room the most it may take, millimetres */
export function fieldPlan(
  course: FieldCourse,
  room: { readonly widthMm: number; readonly heightMm: number },
  pt: number,
): FieldPlan {
  const { lengthM, widthM, alongDeg } = course.wish;
  const fits = (scale: number): boolean =>
    (widthM * 1000) / scale + 2 * AROUND_MM + ARROW_MM <= room.widthMm &&
    (lengthM * 1000) / scale + 2 * AROUND_MM <= room.heightMm;
  const scale = SCALES.find(fits) ?? LARGEST;
  const mm = (metres: number): number => (metres * 1000) / scale;
  const [width, height] = [mm(widthM), mm(lengthM)];
  // Along runs up the page from the corner at the lower left, across to the right.
  const at = (alongM: number, acrossM: number): PaperPoint => [
    AROUND_MM + mm(acrossM),
    AROUND_MM + height - mm(alongM),
  ];
  const places = stakePlaces(course);
  const spot = (label: string): PaperPoint => {
    const place = places.find((one) => one.label === label);
    return at(place?.alongM ?? 0, place?.acrossM ?? 0);
  };
  const legs = course.legs.map(({ from, to }): PageItem => ({
    kind: "shape",
    shape: lineShape(spot(from), spot(to)),
    stroke: { ink: BLACK, widthMm: 0.3 },
  }));
  const rings = course.stakes.map(({ label, ringM }): PageItem => ({
    kind: "shape",
    shape: { parts: [circle(spot(label), mm(ringM))], closed: true },
    stroke: { ink: INKS.soft, widthMm: 0.2, dashMm: [1.2, 0.8] },
  }));
  const stakes = course.stakes.flatMap(({ label }): PageItem[] => {
    const [x, y] = spot(label);
    return [
      { kind: "shape", shape: { parts: [circle([x, y], 0.8)], closed: true }, fill: BLACK },
      textAt(label, [x + 1.6, y - 1.2], { pt, face: "textBold", haloMm: 0.6 }),
    ];
  });
  const ground = { x: AROUND_MM, y: AROUND_MM, width, height };
  return {
    scale,
    widthMm: width + 2 * AROUND_MM + ARROW_MM,
    heightMm: height + 2 * AROUND_MM,
    caption: `Plan ${formatScale(scale)}: ${formatQuantity(lengthM, "m")} up the page, ${formatQuantity(widthM, "m")} across; the corner to measure from is at the lower left. Broken rings: within them a learner walked that leg well.`,
    items: [
      group("ground", [{ kind: "shape", shape: rectShape(ground), stroke: { ink: BLACK, widthMm: 0.4 } }]),
      group("rings", rings),
      group("legs", legs),
      group("stakes", stakes),
      group("corner", [
        {
          kind: "shape",
          shape: rectShape({ x: AROUND_MM - 1, y: AROUND_MM + height - 1, width: 2, height: 2 }),
          fill: BLACK,
        },
        textAt("Corner", [AROUND_MM, AROUND_MM + height + 5], { pt }),
      ]),
      group("north", north([AROUND_MM + width + ARROW_MM, AROUND_MM + 10], -alongDeg, pt)),
    ],
  };
}

const circle = ([x, y]: PaperPoint, radius: number): Float64Array =>
  Float64Array.from(
    Array.from({ length: RING_STEPS }, (_, i) => {
      const angle = (2 * Math.PI * i) / RING_STEPS;
      return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
    }).flat(),
  );

/** An arrow about its middle, turned clockwise from up the page. */
function north([x, y]: PaperPoint, turnDeg: number, pt: number): PageItem[] {
  const [sin, cos] = [Math.sin(turnDeg * DEG), Math.cos(turnDeg * DEG)];
  const place = (up: number, right: number): PaperPoint => [
    x + up * sin + right * cos,
    y - up * cos + right * sin,
  ];
  const stroke = { ink: BLACK, widthMm: 0.35 };
  return [
    { kind: "shape", shape: lineShape(place(-6, 0), place(6, 0)), stroke },
    { kind: "shape", shape: lineShape(place(3.5, -1.4), place(6, 0), place(3.5, 1.4)), stroke },
    // In two lines: in one they would run over the ground.
    textAt("magnetic", [x, y + 10], { pt, anchor: "middle" }),
    textAt("north", [x, y + 10 + 0.45 * pt], { pt, anchor: "middle" }),
  ];
}
