import { describe, expect, it } from "vitest";
import { type ContourLine, keptContours } from "../../../core/mapmaking/contours.ts";
import { type ElevationGrid, WGS84 } from "../../../core/mapmaking/elevation/elevation-grid.ts";
import { contourValues, MODELS, readModel } from "./elevation-fixture.ts";

async function linesOf(grid: ElevationGrid, stepM: number): Promise<ContourLine[]> {
  return keptContours({ ...grid, column: 0, row: 0 }, stepM);
}

const gridOf = (rows: readonly (readonly number[])[]): ElevationGrid => ({
  key: "test",
  columns: rows[0]?.length ?? 0,
  rows: rows.length,
  heights: Float32Array.from(rows.flat()),
  origin: [0, 0],
  step: [1, -1],
  crs: WGS84,
});

const lengthOf = ({ coords }: ContourLine): number => {
  let sum = 0;
  for (let i = 2; i < coords.length; i += 2)
    sum += Math.hypot(coords[i]! - coords[i - 2]!, coords[i + 1]! - coords[i - 1]!);
  return sum;
};

function distanceTo({ coords }: ContourLine, x: number, y: number): number {
  let least = Infinity;
  for (let i = 2; i < coords.length; i += 2) {
    const [ax, ay] = [coords[i - 2]!, coords[i - 1]!];
    const [dx, dy] = [coords[i]! - ax, coords[i + 1]! - ay];
    const l2 = dx * dx + dy * dy;
    const t = l2 > 0 ? Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / l2)) : 0;
    least = Math.min(least, Math.hypot(x - ax - t * dx, y - ay - t * dy));
  }
  return least;
}

/** Bilinear height, written apart from the program's own. */
function bilinear({ columns, heights }: ElevationGrid, x: number, y: number): number {
  const at = (c: number, r: number): number => heights[r * columns + c] ?? Number.NaN;
  const [c, r] = [Math.floor(x), Math.floor(y)];
  const [u, v] = [x - c, y - r];
  const south = v === 0 ? 0 : (u === 0 ? at(c, r + 1) : at(c, r + 1) * (1 - u) + at(c + 1, r + 1) * u) * v;
  return (u === 0 ? at(c, r) : at(c, r) * (1 - u) + at(c + 1, r) * u) * (1 - v) + south;
}

describe.each(MODELS)("contours of %s every 20 m", (model) => {
  it("have GDAL's levels and lengths, and pass through GDAL's vertices", async () => {
    const lines = await linesOf(await readModel(model), 20);
    const values = contourValues(model);
    const byLevel = new Map<number, ContourLine[]>();
    for (const line of lines) byLevel.set(line.level * 20, [...(byLevel.get(line.level * 20) ?? []), line]);
    expect([...byLevel.keys()].sort((a, b) => a - b)).toEqual(values.levels.map(([level]) => level));
    const own = lines.reduce((sum, line) => sum + lengthOf(line), 0);
    const theirs = values.levels.reduce((sum, [, , length]) => sum + length, 0);
    // The two differ at saddles and where a sample lies on a level, which is common with whole metres.
    expect(Math.abs(own / theirs - 1)).toBeLessThan(0.005);
    for (const [level, , length] of values.levels) {
      const here = (byLevel.get(level) ?? []).reduce((sum, line) => sum + lengthOf(line), 0);
      expect(Math.abs(here - length), `level ${level}`).toBeLessThan(Math.max(2.1, 0.02 * length));
    }
    const ownCount = lines.length;
    const theirCount = values.levels.reduce((sum, [, count]) => sum + count, 0);
    expect(Math.abs(ownCount / theirCount - 1)).toBeLessThan(0.05);
    let farthest = 0;
    for (const [level, column, row] of values.vertices)
      farthest = Math.max(
        farthest,
        Math.min(...(byLevel.get(level) ?? []).map((line) => distanceTo(line, column, row))),
      );
    // A thousandth of a cell: the values are rounded to 0.0001, and lines keep 0.0001 clear of samples.
    expect(farthest).toBeLessThan(0.001);
  });

  it("lie on their level in the bilinear surface, and close or end at the edge", async () => {
    const grid = await readModel(model);
    const { columns, rows } = grid;
    const lines = await linesOf(grid, 20);
    let worst = 0;
    for (const { level, coords, closed } of lines) {
      for (let i = 0; i < coords.length; i += 2) {
        const [x, y] = [coords[i]!, coords[i + 1]!];
        // Every vertex is on an edge of the grid.
        expect(Number.isInteger(x) || Number.isInteger(y)).toBe(true);
        worst = Math.max(worst, Math.abs(bilinear(grid, x, y) - level * 20));
      }
      const first = [coords[0], coords[1]];
      const last = [coords.at(-2), coords.at(-1)];
      expect(first[0] === last[0] && first[1] === last[1]).toBe(closed);
      if (!closed)
        for (const [x, y] of [first, last])
          expect(x === 0 || y === 0 || x === columns - 1 || y === rows - 1).toBe(true);
    }
    expect(worst).toBeLessThan(0.1);
  });

  it("never cross or touch one another", async () => {
    // Chords of one cell can only meet chords of the same cell.
    const lines = await linesOf(await readModel(model), 20);
    const byCell = new Map<string, (readonly [number, number, number, number])[]>();
    for (const { coords } of lines)
      for (let i = 2; i < coords.length; i += 2) {
        const chord = [coords[i - 2]!, coords[i - 1]!, coords[i]!, coords[i + 1]!] as const;
        const key = `${Math.floor((chord[0] + chord[2]) / 2)} ${Math.floor((chord[1] + chord[3]) / 2)}`;
        const cell = byCell.get(key);
        if (cell) cell.push(chord);
        else byCell.set(key, [chord]);
      }
    const side = (p: readonly number[], x: number, y: number): number =>
      Math.sign((p[2]! - p[0]!) * (y - p[1]!) - (p[3]! - p[1]!) * (x - p[0]!));
    let pairs = 0;
    for (const chords of byCell.values())
      for (const [k, p] of chords.entries())
        for (const q of chords.slice(k + 1)) {
          pairs++;
          const apart =
            side(p, q[0], q[1]) * side(p, q[2], q[3]) > 0 || side(q, p[0], p[1]) * side(q, p[2], p[3]) > 0;
          expect(apart, `${p.join(" ")} and ${q.join(" ")}`).toBe(true);
        }
    expect(pairs).toBeGreaterThan(5_000);
  });
});

describe("a contour", () => {
  it("rings a summit counter-clockwise as seen on the map, with the higher ground to its left", async () => {
    const [ring, ...others] = await linesOf(
      gridOf([
        [0, 0, 0],
        [0, 9, 0],
        [0, 0, 0],
      ]),
      5,
    );
    expect(others).toEqual([]);
    // By hand: the level 5 lies 4/9 of the way from the summit to each neighbour.
    expect(ring).toMatchObject({ level: 1, closed: true });
    const corners = [
      [1, 5 / 9],
      [5 / 9, 1],
      [1, 13 / 9],
      [13 / 9, 1],
    ];
    const start = corners.findIndex(([x]) => Math.abs(x! - ring!.coords[0]!) < 1e-6);
    const expected = [0, 1, 2, 3, 4].flatMap((k) => corners[(start + k) % 4]!);
    expected.forEach((v, i) => expect(ring!.coords[i]).toBeCloseTo(v, 6));
  });

  it("joins across a saddle what the bilinear surface joins", async () => {
    // Corners 10, 0 / 1, 10: the surface is level at (10·10 − 0·1) / (10 + 10 − 0 − 1) = 100/19 = 5.263 m (Nielson and
    // Hamann 1991). A level below it cuts off the low corners, a level above it the high ones.
    const grid = gridOf([
      [10, 0],
      [1, 10],
    ]);
    const cutOff = async (stepM: number): Promise<number[]> => {
      const lines = (await linesOf(grid, stepM)).filter(({ level }) => level === 1);
      expect(lines.length).toBe(2);
      return lines
        .map(({ coords: [ax, ay, bx, by] }) => Math.hypot((ax! + bx!) / 2, (ay! + by!) / 2))
        .sort((a, b) => a - b);
    };
    // Low corners lie at distance 1 from the first sample, high ones at 0 and √2.
    expect((await cutOff(5.26)).every((d) => d > 0.6 && d < 1.1)).toBe(true);
    const [near, far] = await cutOff(5.27);
    expect(near).toBeLessThan(0.5);
    expect(far).toBeGreaterThan(1);
  });

  it("keeps clear of samples that lie on its level, with no branches", async () => {
    const lines = await linesOf(
      gridOf([
        [0, 0, 0, 0],
        [0, 10, 10, 0],
        [0, 10, 0, 0],
        [0, 0, 0, 0],
      ]),
      10,
    );
    expect(lines.map(({ level, closed }) => [level, closed])).toEqual([[1, true]]);
    for (const v of lines[0]!.coords) expect(Math.abs(v - Math.round(v))).toBeLessThan(2e-4);
    // Ground that only reaches down to a level is not crossed by it.
    expect(
      await linesOf(
        gridOf([
          [20, 20, 20],
          [20, 10, 20],
          [20, 20, 20],
        ]),
        10,
      ),
    ).toHaveLength(1);
  });

  it("ends at voids", async () => {
    const tilted = Array.from({ length: 7 }, (_, r) =>
      Array.from({ length: 7 }, (_, c) => (r === 3 && c === 3 ? Number.NaN : r * 10 - 5)),
    );
    const lines = await linesOf(gridOf(tilted), 10);
    // Levels 20 and 30 run along rows 2.5 and 3.5, through the four cells without a corner.
    const ofLevel = (level: number): number[][] =>
      lines.filter((l) => l.level === level).map((l) => [...l.coords].filter((_, i) => i % 2 === 0));
    for (const level of [2, 3]) {
      const spans = ofLevel(level)
        .map((xs) => [Math.min(...xs), Math.max(...xs)])
        .sort((a, b) => a[0]! - b[0]!);
      expect(spans).toEqual([
        [0, 2],
        [4, 6],
      ]);
    }
    expect(ofLevel(1).map((xs) => [Math.min(...xs), Math.max(...xs)])).toEqual([[0, 6]]);
  });

  it("is found below sea level too", async () => {
    const lines = await linesOf(
      gridOf([
        [-25, -25],
        [5, 5],
      ]),
      10,
    );
    expect(lines.map(({ level }) => level).sort((a, b) => a - b)).toEqual([-2, -1, 0]);
  });
});
