/** Where the rays and labels of a north diagram stand. Angles are never stretched; labels give way instead. */
import { DEG } from "../../core/units/angle.ts";
import type { North } from "../../core/walk/walk.ts";

export interface NorthRay {
  readonly north: North;
  /** From true north, clockwise, degrees. */
  readonly deg: number;
}

export interface LaidRay extends NorthRay {
  /** Direction in which the label stands, degrees from true north clockwise. */
  readonly labelDeg: number;
  /** The label stands so far aside that a line must lead to it. */
  readonly leads: boolean;
}

/**
 * Labels in the order of their rays, each as near its ray as the others let it be.
 * Neighbours that come too near are moved apart evenly about the middle of their group, which moves all of them least.
 * @param rays one to three, angles from −180 up to 180
 * @param leastDeg angle that two labels side by side need at the labels' distance
 */
export function layRays(rays: readonly NorthRay[], leastDeg: number): LaidRay[] {
  // Those of one angle keep the order true, grid, magnetic.
  const ordered = [...rays].sort((a, b) => a.deg - b.deg);
  interface Group {
    readonly rays: NorthRay[];
    middle: number;
  }
  const groups: Group[] = [];
  const half = ({ rays: { length } }: Group): number => ((length - 1) / 2) * leastDeg;
  for (const ray of ordered) {
    groups.push({ rays: [ray], middle: ray.deg });
    for (;;) {
      const [last, before] = [groups.at(-1), groups.at(-2)];
      if (!last || !before || last.middle - half(last) - (before.middle + half(before)) >= leastDeg) break;
      groups.splice(-2, 2, joined(before.rays, last.rays));
    }
  }
  function joined(a: readonly NorthRay[], b: readonly NorthRay[]): Group {
    const all = [...a, ...b];
    return { rays: all, middle: all.reduce((sum, { deg }) => sum + deg, 0) / all.length };
  }
  return groups.flatMap((group) =>
    group.rays.map((ray, i) => {
      const labelDeg = group.middle - half(group) + i * leastDeg;
      return { ...ray, labelDeg, leads: Math.abs(labelDeg - ray.deg) > 0.5 };
    }),
  );
}

/** A place at a distance from the foot of the rays, x to the east, y down the page. */
export const onRay = (deg: number, radius: number): readonly [x: number, y: number] => [
  radius * Math.sin(deg * DEG),
  -radius * Math.cos(deg * DEG),
];

export interface Frame {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/**
 * The line that leads from the tip of a ray to its label: to the nearest place on the label's edge.
 * @returns null when the label stands at the tip by itself
 */
export function leaderOf(
  { deg, labelDeg, leads }: LaidRay,
  tipRadius: number,
  label: LabelSize,
): { readonly from: readonly [number, number]; readonly to: readonly [number, number] } | null {
  if (!leads) return null;
  const from = onRay(deg, tipRadius);
  const [x, y] = onRay(labelDeg, label.radius);
  const clamp = (value: number, middle: number, size: number): number =>
    Math.min(Math.max(value, middle - size / 2), middle + size / 2);
  return { from, to: [clamp(from[0], x, label.width), clamp(from[1], y, label.height)] };
}

/** Where a label's middle stands, and how large it is. */
export interface LabelSize {
  readonly radius: number;
  readonly width: number;
  readonly height: number;
}

/** A box around the foot, the rays and the labels, these of a given size about their place. */
export function frameOf(laid: readonly LaidRay[], radius: number, label: LabelSize): Frame {
  const xs = [0];
  const ys = [0];
  for (const { deg, labelDeg } of laid) {
    const [tipX, tipY] = onRay(deg, radius);
    const [x, y] = onRay(labelDeg, label.radius);
    xs.push(tipX, x - label.width / 2, x + label.width / 2);
    ys.push(tipY, y - label.height / 2, y + label.height / 2);
  }
  const pad = 4;
  const [left, top] = [Math.min(...xs) - pad, Math.min(...ys) - pad];
  return { x: left, y: top, width: Math.max(...xs) + pad - left, height: Math.max(...ys) + pad - top };
}
