/** The piece of map of a course: the largest usual scale at which it fits, with its points and, for the setter, its legs. */
import type { CourseLeg, CoursePoint } from "../../course/course.ts";
import { Fault } from "../../fault.ts";
import type { Ground } from "../../terrain/ground.ts";
import { BLACK } from "../furniture/set-text.ts";
import { strokes } from "../map/strokes.ts";
import { group, type PageItem } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { USUAL_SCALES } from "../sheet-job.ts";
import { questionMap, type QuestionMap } from "../worksheet/question-map.ts";

export interface MapWish {
  /** Denominator; null for the largest usual one at which the course fits. */
  readonly scale: number | null;
  readonly room: { readonly widthMm: number; readonly heightMm: number };
  readonly large: boolean;
}

export const pointName = (n: number): string => (n === 0 ? "Start" : String(n));

/** So far from a point its legs begin, millimetres, so that the cross stays clear. */
const CLEAR_MM = 2.4;

/**
 * @param legs those drawn; none for the learner
 * @throws Fault "out-of-range" where the course does not fit at the scale asked for, or at any usual one
 */
export async function courseMap(
  points: readonly CoursePoint[],
  legs: readonly CourseLeg[],
  { scale, room, large }: MapWish,
  ground: Ground,
  ruler: TextRuler,
  signal?: AbortSignal,
): Promise<QuestionMap> {
  const marks = points.map(({ lonLat }, n) => ({ label: pointName(n), lonLat }));
  for (const one of scale === null ? USUAL_SCALES : [scale]) {
    try {
      const marked = { kind: "bearing", marks, joined: false } as const;
      const map = await questionMap(marked, one, room, ground, ruler, large, signal);
      if (map) return { ...map, items: [...map.items, ...drawnLegs(map, points, legs)] };
    } catch (thrown) {
      const fault = Fault.from(thrown);
      if (fault.code !== "out-of-range" || scale !== null) throw fault;
    }
  }
  throw new Fault(
    "out-of-range",
    "The course does not fit this paper at any usual scale.",
    null,
    "Take larger paper, or set a shorter course.",
  );
}

function drawnLegs(
  { frame }: QuestionMap,
  points: readonly CoursePoint[],
  legs: readonly CourseLeg[],
): PageItem[] {
  const at = points.map(({ lonLat }) => frame.toPaper(lonLat));
  const lines = legs.flatMap(({ from, to }) => {
    const [a, b] = [at[from], at[to]];
    if (!a || !b) return [];
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const long = Math.hypot(dx, dy);
    if (long < 3 * CLEAR_MM) return [];
    const [x, y] = [(dx / long) * CLEAR_MM, (dy / long) * CLEAR_MM];
    return [Float64Array.of(a[0] + x, a[1] + y, b[0] - x, b[1] - y)];
  });
  return legs.length === 0 ? [] : [group("legs", strokes(lines, { ink: BLACK, widthMm: 0.4 }), frame.map)];
}
