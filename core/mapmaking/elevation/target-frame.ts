/** The one grid several models are brought onto, and the part of it a map is to be made of. */
import proj4 from "proj4";
import { Fault } from "../../fault.ts";
import { inverse } from "../../geodesy/geodesic.ts";
import { type Bbox, bboxOf, type LonLat } from "../../units/position.ts";
import { type GridCrs, WGS84 } from "./elevation-grid.ts";
import { type GridFrame, MOST_SAMPLES } from "./elevation-model.ts";
import { inDegrees, unitOf } from "./grid-crs.ts";

export interface TargetOptions {
  /** The area wanted, degrees WGS 84; the whole of the models when left out. */
  readonly bounds?: Bbox | undefined;
  /** North–south spacing of samples, metres; that of the finest model when left out. */
  readonly cellM?: number | undefined;
  /** System of the grid; that of the finest model when left out. */
  readonly crs?: GridCrs | undefined;
}

/** Positions in one system to another; a pair that cannot be brought over is NaN. */
export function transformer(from: GridCrs, to: GridCrs): (x: number, y: number) => readonly [number, number] {
  if (from.proj === to.proj) return (x, y) => [x, y];
  const converter = proj4(from.proj, to.proj);
  return (x, y) => {
    try {
      const [a, b] = converter.forward<[number, number]>([x, y]);
      return [a, b];
    } catch {
      return [Number.NaN, Number.NaN];
    }
  };
}

/** North–south spacing of samples in the middle of a frame, metres. */
export function cellSizeM({ columns, rows, origin, step, crs }: GridFrame): number {
  const toLonLat = transformer(crs, WGS84);
  const x = origin[0] + ((columns - 1) / 2) * step[0];
  const y = origin[1] + ((rows - 1) / 2) * step[1];
  return inverse(toLonLat(x, y - step[1] / 2), toLonLat(x, y + step[1] / 2)).distanceM;
}

/** Places along the outline of a box, close enough for curved edges. */
function outline(west: number, south: number, east: number, north: number): (readonly [number, number])[] {
  const parts = 64;
  const places: (readonly [number, number])[] = [];
  for (let i = 0; i <= parts; i++) {
    const x = west + ((east - west) * i) / parts;
    const y = south + ((north - south) * i) / parts;
    places.push([x, south], [x, north], [west, y], [east, y]);
  }
  return places;
}

/** Outer edge of a frame's cells. */
function cellsOf({ columns, rows, origin, step }: GridFrame): readonly [number, number, number, number] {
  return [
    origin[0] - step[0] / 2,
    origin[1] + (rows - 0.5) * step[1],
    origin[0] + (columns - 0.5) * step[0],
    origin[1] - step[1] / 2,
  ];
}

/** The box around a frame, degrees WGS 84. */
export function boundsOf(frame: GridFrame): Bbox | null {
  const toLonLat = transformer(frame.crs, WGS84);
  return bboxOf(outline(...cellsOf(frame)).map(([x, y]): LonLat => toLonLat(x, y)));
}

/**
 * The grid of the finest model, or the one asked for, as far as the models and the area wanted reach. Samples of a model
 * already on that grid stay what they are.
 * @throws Fault "out-of-range" when no model reaches into the area, "bad-argument" for a cell size that makes no sense,
 *   "bad-elevation" when the grid would be too large
 */
export function targetFrame(models: readonly GridFrame[], options: TargetOptions): GridFrame {
  const sizes = models.map(cellSizeM);
  const finest = sizes.reduce((best, size, i) => (size < sizes[best]! ? i : best), 0);
  const model = models[finest]!;
  const crs = options.crs ?? model.crs;
  const key = models.length === 1 ? model.key : `${model.key} and ${models.length - 1} more`;
  const { cellM } = options;
  if (cellM !== undefined && !(cellM > 0 && cellM < 100_000))
    throw new Fault("bad-argument", `A cell of ${cellM} m is not possible.`, "cell size");
  const times = cellM === undefined ? 1 : cellM / sizes[finest]!;
  // A whole number of cells to one, where that is what was nearly meant.
  const factor = Math.abs(times - Math.round(times)) < 0.02 && times >= 1 ? Math.round(times) : times;
  let step: readonly [number, number];
  let anchor: readonly [number, number];
  if (crs.proj === model.crs.proj) {
    step = [model.step[0] * factor, model.step[1] * factor];
    // Edges of coarser cells on edges of finer ones.
    anchor = [
      model.origin[0] + ((factor - 1) / 2) * model.step[0],
      model.origin[1] + ((factor - 1) / 2) * model.step[1],
    ];
  } else {
    const wantedM = cellM ?? sizes[finest]!;
    const side = inDegrees(crs) ? wantedM / 111_195 : wantedM / unitOf(crs);
    step = [side, -side];
    anchor = [0, 0];
  }
  const at = (x: number, y: number): readonly [number, number] => [
    (x - anchor[0]) / step[0],
    (y - anchor[1]) / step[1],
  ];
  const span = (
    places: readonly (readonly [number, number])[],
    rounding: (least: number, most: number) => readonly [number, number],
  ): readonly [number, number, number, number] => {
    const [us, vs] = [places.map(([u]) => u), places.map(([, v]) => v)];
    const [west, east] = rounding(Math.min(...us), Math.max(...us));
    const [north, south] = rounding(Math.min(...vs), Math.max(...vs));
    return [west, north, east, south];
  };
  // Samples whose own place lies within the models' cells.
  const edge = 1e-4;
  let box: readonly [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const each of models) {
    const over = transformer(each.crs, crs);
    const places = outline(...cellsOf(each))
      .map(([x, y]) => over(x, y))
      .filter((place) => place.every(Number.isFinite))
      .map(([x, y]) => at(x, y));
    const [w, n, e, s] = span(places, (least, most) => [Math.ceil(least - edge), Math.floor(most + edge)]);
    box = [Math.min(box[0], w), Math.min(box[1], n), Math.max(box[2], e), Math.max(box[3], s)];
  }
  if (options.bounds) {
    const [west, south, east, north] = options.bounds;
    const over = transformer(WGS84, crs);
    const places = outline(west, south, east, north)
      .map(([x, y]) => over(x, y))
      .filter((place) => place.every(Number.isFinite))
      .map(([x, y]) => at(x, y));
    const [w, n, e, s] = span(places, (least, most) => [Math.floor(least + edge), Math.ceil(most - edge)]);
    const part = [
      Math.max(box[0], w),
      Math.max(box[1], n),
      Math.min(box[2], e),
      Math.min(box[3], s),
    ] as const;
    if (places.length === 0 || !(part[2] - part[0] >= 1) || !(part[3] - part[1] >= 1))
      throw outside(models, options.bounds);
    box = part;
  }
  const [columns, rows] = [box[2] - box[0] + 1, box[3] - box[1] + 1];
  if (!(columns >= 1 && rows >= 1 && columns * rows <= MOST_SAMPLES))
    throw new Fault(
      "bad-elevation",
      `Together the models would need ${columns} by ${rows} samples, more than can be worked on.`,
      key,
      "Cut out an area with --bounds W,S,E,N, or take larger cells with --cell.",
    );
  return {
    key,
    columns,
    rows,
    origin: [anchor[0] + box[0] * step[0], anchor[1] + box[1] * step[1]],
    step,
    crs,
  };
}

function outside(models: readonly GridFrame[], wanted: Bbox): Fault {
  const boxes = models.map(boundsOf).filter((box) => box !== null);
  const around = boxes.map((box) => box.map((n) => Number(n.toFixed(5))).join(",")).slice(0, 5);
  const [west, south, east, north] = wanted;
  // Given latitude first, as people do.
  const swapped = boxes.some(([w, s, e, n]) => south < e && w < north && west < n && s < east);
  return new Fault(
    "out-of-range",
    `The area ${wanted.join(",")} lies outside the elevation given, which reaches over ${around.join(" and ")} (west,south,east,north).`,
    models.length === 1 ? models[0]!.key : null,
    swapped
      ? "Longitude and latitude seem to be exchanged: give west,south,east,north."
      : "Give an area within that.",
  );
}
