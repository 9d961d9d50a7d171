import { describe, expect, it } from "vitest";
import { drainageOf, type Flow, flowOf, type Surface } from "../../../core/mapmaking/flow.ts";
import { placeGrid } from "../../../core/mapmaking/elevation/grid-placement.ts";
import { surfaceOf } from "../../../core/mapmaking/derived-features.ts";
import { streamLines } from "../../../core/mapmaking/streams.ts";
import { MODELS, quietly, readModel } from "./elevation-fixture.ts";

const CELL = 10;
function surface(columns: number, rows: number, height: (c: number, r: number) => number): Surface {
  return {
    columns,
    rows,
    heights: Float32Array.from({ length: columns * rows }, (_, i) =>
      height(i % columns, Math.floor(i / columns)),
    ),
    cellM: CELL,
    cellWidthM: () => CELL,
  };
}

/** Flooding worked out the slow way: raise everything, then lower each sample to its lowest neighbour until nothing moves. */
function floodedSlowly({ columns, rows, heights }: Surface): Float32Array {
  const level = heights.map((h, i) => {
    const [c, r] = [i % columns, Math.floor(i / columns)];
    return c === 0 || r === 0 || c === columns - 1 || r === rows - 1 ? h : Infinity;
  });
  for (let moved = true; moved;) {
    moved = false;
    for (let r = 1; r + 1 < rows; r++)
      for (let c = 1; c + 1 < columns; c++) {
        const i = r * columns + c;
        let lowest = Infinity;
        for (const d of [-columns - 1, -columns, -columns + 1, -1, 1, columns - 1, columns, columns + 1])
          lowest = Math.min(lowest, level[i + d]!);
        const next = Math.max(heights[i]!, lowest);
        if (next < level[i]!) {
          level[i] = next;
          moved = true;
        }
      }
  }
  return level;
}

/** Rough ground, the same every time. */
const rough = (c: number, r: number): number =>
  ((Math.imul(c * 7919 + r * 104729 + 17, 2654435761) >>> 8) % 1000) / 50;

/** Every way down gets off the grid, and never uphill on the flooded surface. */
function expectDownhill({ receiver, flooded }: Flow): void {
  const ends = new Uint8Array(receiver.length);
  for (let start = 0; start < receiver.length; start++) {
    const way: number[] = [];
    let i = start;
    for (; receiver[i]! >= 0 && !ends[i]; i = receiver[i]!) {
      if (flooded[receiver[i]!]! > flooded[i]!) expect(`uphill at ${i}`).toBe("");
      way.push(i);
      if (way.length > receiver.length) expect(`a circle at ${start}`).toBe("");
    }
    for (const k of way) ends[k] = 1;
  }
}

describe("flooding", () => {
  it("fills a pit to the level of its lowest way out, and no more", async () => {
    // A bowl 4 m deep in a plain at 100 m, with a notch at 98 m in the plain's edge.
    const s = surface(15, 15, (c, r) =>
      c === 7 && r >= 9 ? 98 : Math.max(Math.abs(c - 7), Math.abs(r - 7)) <= 2 ? 96 : 100,
    );
    const { flooded } = await flowOf(s, quietly);
    for (let r = 5; r <= 9; r++)
      for (let c = 5; c <= 9; c++) expect(flooded[r * 15 + c]).toBe(r === 9 && c === 7 ? 98 : 98);
    expect(flooded[3 * 15 + 3]).toBe(100);
  });

  it("agrees with flooding worked out the slow way on rough ground", async () => {
    const s = surface(60, 45, (c, r) => rough(c, r) + 0.3 * c);
    const flow = await flowOf(s, quietly);
    expect(flow.flooded).toEqual(floodedSlowly(s));
    expectDownhill(flow);
  });

  it("gives the same ways in less memory, and those of the surface upside down", async () => {
    const s = surface(30, 20, rough);
    const { receiver, upstreamM2 } = await flowOf(s, quietly);
    expect(await drainageOf(s, 1, quietly)).toEqual({ receiver, upstreamM2 });
    const turned = await flowOf({ ...s, heights: s.heights.map((h) => -h) }, quietly);
    const drained = await drainageOf(s, -1, quietly);
    expect(drained.receiver).toEqual(turned.receiver);
    expect(drained.upstreamM2).toEqual(turned.upstreamM2);
    expect(drained.receiver).not.toEqual(receiver);
  });

  it.each(MODELS)("sends all water of %s off the model, downhill on the flooded surface", async (model) => {
    const grid = await readModel(model);
    const flow = await flowOf(surfaceOf(grid, placeGrid(grid)), quietly);
    expectDownhill(flow);
    // Nothing is lost: what leaves the model adds up to its area.
    let out = 0;
    let all = 0;
    const s = surfaceOf(grid, placeGrid(grid));
    for (let i = 0; i < flow.receiver.length; i++) {
      all += s.cellM * s.cellWidthM(Math.floor(i / grid.columns));
      if (flow.receiver[i] === -1) out += flow.upstreamM2[i]!;
    }
    expect(out / all).toBeCloseTo(1, 4);
  });

  it("takes voids for the edge", async () => {
    const s = surface(9, 9, (c, r) => (c === 4 && r === 4 ? Number.NaN : 50 + Math.hypot(c - 4, r - 4)));
    const { receiver, upstreamM2 } = await flowOf(s, quietly);
    expect(receiver[4 * 9 + 4]).toBe(-1);
    expect(receiver[4 * 9 + 5]).toBe(-1);
    // Along the row eastwards of the void water runs west, into it.
    expect(receiver[4 * 9 + 7]).toBe(4 * 9 + 6);
    expect(upstreamM2[4 * 9 + 5]).toBeGreaterThan(3 * CELL * CELL);
  });
});

describe("streams", () => {
  /** A V-shaped valley along column 50, tilted south by 1 in 50, its sides 1 in 5. */
  const valley = surface(101, 121, (c, r) => 500 + 2 * Math.abs(c - 50) - 0.2 * r);

  it("follow the floor of a tilted V-shaped valley from where enough ground drains in", async () => {
    const flow = await flowOf(valley, quietly);
    const lines = streamLines(valley, flow, { streamM2: 200_000, riverM2: 1e9 });
    expect(lines).toHaveLength(1);
    const { coords, class: kind, upstreamM2 } = lines[0]!;
    expect(kind).toBe("stream");
    for (let i = 0; i < coords.length; i += 2) {
      expect(coords[i]).toBeCloseTo(50, 9);
      if (i > 0) expect(coords[i + 1]).toBeGreaterThan(coords[i - 1]!);
    }
    expect(coords.at(-1)).toBe(120);
    // Sides fall to the floor at 45° on the map (steepest of eight ways is straight across: 0.2 against 0.155 slantwise),
    // so at row r the floor drains (r + 1) rows of 101 samples.
    expect(upstreamM2).toBeCloseTo(121 * 101 * CELL * CELL, -1);
    const head = coords[1]!;
    expect(Math.abs(head - (200_000 / (101 * CELL * CELL) - 1))).toBeLessThan(1.5);
  });

  it("turn into rivers where they have grown enough, without a gap", async () => {
    const flow = await flowOf(valley, quietly);
    const [stream, river, ...others] = streamLines(valley, flow, { streamM2: 200_000, riverM2: 800_000 });
    expect(others).toEqual([]);
    expect([stream!.class, river!.class]).toEqual(["stream", "river"]);
    expect(stream!.coords.slice(-2)).toEqual(river!.coords.slice(0, 2));
  });

  it("meet: a side stream ends on the position of the one it joins", async () => {
    // Two valleys that come together: the floor is the nearer of two lines that meet at row 60.
    const y = surface(121, 121, (c, r) => {
      const arm = Math.max(0, 60 - r) * 0.5;
      return 500 + 2 * Math.min(Math.abs(c - 60 - arm), Math.abs(c - 60 + arm)) - 0.3 * r;
    });
    const lines = streamLines(y, await flowOf(y, quietly), { streamM2: 100_000, riverM2: 1e9 });
    expect(lines).toHaveLength(2);
    const [main, side] = [...lines].sort((a, b) => b.samples.length - a.samples.length);
    const meets = main!.samples.indexOf(side!.samples.at(-1)!);
    expect(meets).toBeGreaterThan(0);
    expect(side!.coords.slice(-2)).toEqual(main!.coords.slice(2 * meets, 2 * meets + 2));
  });

  it.each(MODELS)(
    "of %s never run uphill on the flooded surface and stay within half a cell of their samples",
    async (model) => {
      const grid = await readModel(model);
      const s = surfaceOf(grid, placeGrid(grid));
      const flow = await flowOf(s, quietly);
      const lines = streamLines(s, flow);
      expect(lines.length).toBeGreaterThan(10);
      for (const { samples, coords } of lines)
        samples.forEach((sample, i) => {
          if (i > 0) expect(flow.flooded[sample]).toBeLessThanOrEqual(flow.flooded[samples[i - 1]!]!);
          const [c, r] = [sample % grid.columns, Math.floor(sample / grid.columns)];
          expect(Math.hypot(coords[2 * i]! - c, coords[2 * i + 1]! - r)).toBeLessThanOrEqual(0.5 + 1e-9);
        });
    },
  );
});
