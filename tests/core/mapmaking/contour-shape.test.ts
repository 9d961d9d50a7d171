/** What smoothing and thinning may do to a contour, held to the limits they promise, on real ground. */
import { beforeAll, describe, expect, it } from "vitest";
import { edgeDrops, settled, smooth, thin } from "../../../core/mapmaking/contour-shape.ts";
import { type ContourLine, keptContours } from "../../../core/mapmaking/contours.ts";
import { depressionsOf, joinBands, scanBand } from "../../../core/mapmaking/depressions.ts";
import type { ElevationGrid } from "../../../core/mapmaking/elevation/elevation-grid.ts";
import { gridSource, halved, type HeightWindow } from "../../../core/mapmaking/height-source.ts";
import { type KeySet, keySet } from "../../../core/mapmaking/key-set.ts";
import { MODELS, readModel } from "./elevation-fixture.ts";

const STEP_M = 10;
const wholeOf = (grid: ElevationGrid): HeightWindow => ({ ...grid, column: 0, row: 0 });

const linesOf = (window: HeightWindow): ContourLine[] => keptContours(window, STEP_M);

describe.each(MODELS)("contours of %s", (model) => {
  let window: HeightWindow;
  beforeAll(async () => {
    window = wholeOf(await readModel(model));
  });

  it("are moved by smoothing along their own edge of the grid, a quarter of a cell and half a metre at most", () => {
    let moved = 0;
    let vertices = 0;
    let [farthest, highest, leftItsEdge] = [0, 0, 0];
    const turning = { before: 0, after: 0 };
    const turn = (c: Float64Array, i: number): number => {
      const a = Math.atan2(c[i + 1]! - c[i - 1]!, c[i]! - c[i - 2]!);
      const b = Math.atan2(c[i + 3]! - c[i + 1]!, c[i + 2]! - c[i]!);
      return Math.abs(Math.atan2(Math.sin(b - a), Math.cos(b - a)));
    };
    for (const { coords, closed } of linesOf(window)) {
      const before = coords.slice();
      const drops = edgeDrops(coords, window);
      smooth(coords, drops, closed, STEP_M);
      for (let i = 0; i < coords.length; i += 2) {
        const off = Math.hypot(coords[i]! - before[i]!, coords[i + 1]! - before[i + 1]!);
        vertices++;
        if (off > 0) moved++;
        farthest = Math.max(farthest, off);
        highest = Math.max(highest, off * drops[i / 2]!);
        for (const at of [i, i + 1])
          if (
            Number.isInteger(coords[at]!) !== Number.isInteger(before[at]!) ||
            Math.floor(coords[at]!) !== Math.floor(before[at]!)
          )
            leftItsEdge++;
        if (i > 0 && i + 2 < coords.length) {
          turning.before += turn(before, i);
          turning.after += turn(coords, i);
        }
      }
    }
    expect(farthest).toBeLessThanOrEqual(0.25 + 1e-9);
    expect(highest).toBeLessThanOrEqual(0.5 + 1e-6);
    expect(leftItsEdge).toBe(0);
    expect(moved).toBeGreaterThan(vertices / 2);
    // And it is of use: lines turn less.
    expect(turning.after).toBeLessThan(0.9 * turning.before);
  });

  it("are thinned by no more than told, and to the same line from every window", () => {
    const scale = { unitsX: 18, unitsY: 18, tolerance: 4, stepM: STEP_M };
    let farthest = 0;
    const keptOf = (part: HeightWindow): Set<string> => {
      const kept = new Set<string>();
      for (const { level, coords: found, closed } of linesOf(part)) {
        const coords = closed ? settled(found) : found;
        const drops = edgeDrops(coords, part);
        smooth(coords, drops, closed, STEP_M);
        const keep = thin(coords, drops, closed, scale, 8);
        let from = 0;
        for (let i = 0; i < keep.length; i++) {
          if (!keep[i]) continue;
          kept.add(`${level} ${coords[2 * i]} ${coords[2 * i + 1]}`);
          for (let k = from + 1; k < i; k++) {
            const [ax, ay] = [coords[2 * from]!, coords[2 * from + 1]!];
            const [dx, dy] = [coords[2 * i]! - ax, coords[2 * i + 1]! - ay];
            const [px, py] = [coords[2 * k]! - ax, coords[2 * k + 1]! - ay];
            const t = Math.max(0, Math.min(1, (px * dx + py * dy) / (dx * dx + dy * dy)));
            farthest = Math.max(farthest, Math.hypot(px - t * dx, py - t * dy) * 18);
          }
          from = i;
        }
      }
      return kept;
    };
    const inside = (kept: Set<string>): string[] =>
      [...kept]
        .filter((place) => {
          const [, x, y] = place.split(" ").map(Number) as [number, number, number];
          return x >= 96 && x <= 144 && y >= 96 && y <= 144;
        })
        .sort((a, b) => a.localeCompare(b));
    const box = { column: 80, row: 80, columns: 81, rows: 81 };
    const source = gridSource({
      ...window,
      key: "",
      origin: [0, 0],
      step: [1, -1],
      crs: { name: "", proj: "" },
    });
    const whole = inside(keptOf(window));
    expect(farthest).toBeLessThanOrEqual(4 + 1e-9);
    expect(whole.length).toBeGreaterThan(200);
    expect(inside(keptOf(source.window(box)))).toEqual(whole);
  });

  it("are known to ring lower ground however the model is cut into bands and windows", () => {
    const { columns, rows } = window;
    const source = gridSource({
      ...window,
      key: "",
      origin: [0, 0],
      step: [1, -1],
      crs: { name: "", proj: "" },
    });
    const scansOf = (asked: KeySet | null): ReturnType<typeof scanBand>[] =>
      Array.from({ length: Math.ceil((rows - 1) / 16) }, (_, k) =>
        scanBand(
          source.window({ column: 0, row: 16 * k, columns, rows: Math.min(17, rows - 16 * k) }),
          STEP_M,
          { columns, rows },
          asked,
        ),
      );
    const scans = scansOf(null);
    const { ends, lines: count } = joinBands(scans);
    const lines = linesOf(window);
    expect(count).toBe(lines.length);
    const mesh = keySet([...scans, ...scansOf(ends)].map((scan) => scan.mesh));
    const depressions = depressionsOf(mesh, { columns, rows });
    let around = 0;
    let wrong = 0;
    for (const { coords, closed, level } of lines) {
      // Of whole rings the shoelace formula tells; of half a ring only the mesh can.
      let area = 0;
      for (let i = 0; i + 3 < coords.length; i += 2)
        area +=
          (coords[i]! - coords[0]!) * coords[i + 3]! -
          coords[i + 2]! * coords[i + 1]! +
          coords[0]! * coords[i + 1]!;
      const large =
        Math.max(...coords.filter((_, i) => i % 2 === 0).map((x) => Math.abs(x - coords[0]!))) >= 16;
      if (closed && !large) continue;
      if (depressions.has(coords, false, level, 0) !== (closed && area > 0)) wrong++;
      if (closed && area > 0) around++;
    }
    expect(wrong).toBe(0);
    expect(around).toBeGreaterThan(0);
  });
});

describe("a halved model", () => {
  it("keeps planes, voids and the places of its samples", () => {
    const columns = 9;
    const heights = Float32Array.from({ length: 81 }, (_, i) => 3 * (i % 9) + 2 * Math.floor(i / 9));
    heights[4 * 9 + 4] = Number.NaN;
    const out = halved({ column: 0, row: 0, columns, rows: 9, heights });
    expect([out.columns, out.rows]).toEqual([5, 5]);
    // Inside, away from the void and the edge, a mean of weights that balance gives a plane back.
    for (const [c, r] of [
      [1, 1],
      [3, 1],
      [1, 3],
      [3, 3],
    ] as const)
      expect(out.heights[r * 5 + c]).toBeCloseTo(3 * 2 * c + 2 * 2 * r, 4);
    expect(out.heights[2 * 5 + 2]).toBeNaN();
  });
});
