/** Marks and figures of a compass face, in its own unit. Pure. */
import type { Compass } from "../../core/legs/norths/bearing-to-set.ts";
import { degreesToMils, milsToDegrees } from "../../core/units/mils.ts";

export interface FaceMark {
  readonly deg: number;
  readonly length: "long" | "middle" | "short";
}

export interface FaceFigure {
  readonly deg: number;
  readonly text: string;
}

/** A face of this size cannot show marks closer than this: of finer ones every second or fifth is drawn. */
const CLOSEST_DEG = 2;

/** Lines around the ring. The spacing of the compass's marks, or the nearest multiple of it that can still be seen. */
export function faceMarks({ unit, graduationDeg }: Compass): readonly FaceMark[] {
  const [step, middle, long] =
    unit === "mils"
      ? [Math.max(50, Math.round(degreesToMils(graduationDeg))), 100, 400]
      : [Math.max(CLOSEST_DEG, graduationDeg), 10, 30];
  const circle = unit === "mils" ? 6400 : 360;
  return Array.from({ length: Math.round(circle / step) }, (_, i) => {
    const at = i * step;
    return {
      deg: unit === "mils" ? milsToDegrees(at) : at,
      length: at % long === 0 ? "long" : at % middle === 0 ? "middle" : "short",
    };
  });
}

/** Figures in the ring; north is "N", and by quadrants so are the other axes. Those of mils are hundreds. */
export function faceFigures({ unit }: Compass): readonly FaceFigure[] {
  if (unit === "mils")
    return Array.from({ length: 16 }, (_, i) => ({ deg: i * 22.5, text: i === 0 ? "N" : String(i * 4) }));
  return Array.from({ length: 12 }, (_, i) => {
    const deg = i * 30;
    if (deg === 0) return { deg, text: "N" };
    if (unit === "degrees") return { deg, text: String(deg) };
    const axis = { 90: "E", 180: "S", 270: "W" }[deg];
    const angle = deg % 180;
    return { deg, text: axis ?? String(angle > 90 ? 180 - angle : angle) };
  });
}
