/**
 * A square-celled grid of numbers in a flat frame: metres east and north of the south-west corner.
 * Values sit at cell centres; rows run from north to south, columns from west to east, row-major.
 */
export interface HeightGrid {
  readonly columns: number;
  readonly rows: number;
  readonly cellM: number;
  readonly z: Float64Array;
}

export function newGrid(columns: number, rows: number, cellM: number, fill = 0): HeightGrid {
  return { columns, rows, cellM, z: new Float64Array(columns * rows).fill(fill) };
}

export const eastOf = (grid: HeightGrid, column: number): number => (column + 0.5) * grid.cellM;
export const northOf = (grid: HeightGrid, row: number): number => (grid.rows - row - 0.5) * grid.cellM;

/** Index of the cell that holds a place; places outside take the nearest cell. */
export function cellAt(grid: HeightGrid, eastM: number, northM: number): number {
  const column = Math.min(grid.columns - 1, Math.max(0, Math.floor(eastM / grid.cellM)));
  const row = Math.min(grid.rows - 1, Math.max(0, grid.rows - 1 - Math.floor(northM / grid.cellM)));
  return row * grid.columns + column;
}

/** A grid of the same shape filled by a function of place, metres. */
export function gridOf(
  like: HeightGrid,
  value: (eastM: number, northM: number, index: number) => number,
): HeightGrid {
  const grid = newGrid(like.columns, like.rows, like.cellM);
  for (let row = 0, i = 0; row < grid.rows; row++)
    for (let column = 0; column < grid.columns; column++, i++)
      grid.z[i] = value(eastOf(grid, column), northOf(grid, row), i);
  return grid;
}

/** Bilinear value at a place; beyond the outermost cell centres the edge's value. */
export function sample(grid: HeightGrid, eastM: number, northM: number): number {
  const { columns, rows, cellM, z } = grid;
  const x = Math.min(columns - 1, Math.max(0, eastM / cellM - 0.5));
  const y = Math.min(rows - 1, Math.max(0, rows - 0.5 - northM / cellM));
  const column = Math.min(columns - 2, Math.floor(x));
  const row = Math.min(rows - 2, Math.floor(y));
  const u = x - column;
  const v = y - row;
  const i = row * columns + column;
  return (
    ((z[i] as number) * (1 - u) + (z[i + 1] as number) * u) * (1 - v) +
    ((z[i + columns] as number) * (1 - u) + (z[i + columns + 1] as number) * u) * v
  );
}

function cubic(a: number, b: number, c: number, d: number, t: number): number {
  return b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)));
}

/** Catmull-Rom value at a place: like `sample` without creases at cell centres. */
export function sampleSmooth(grid: HeightGrid, eastM: number, northM: number): number {
  const { columns, rows, cellM, z } = grid;
  const x = Math.min(columns - 1, Math.max(0, eastM / cellM - 0.5));
  const y = Math.min(rows - 1, Math.max(0, rows - 0.5 - northM / cellM));
  const column = Math.floor(x);
  const row = Math.floor(y);
  const at = (c: number, r: number): number =>
    z[Math.min(rows - 1, Math.max(0, r)) * columns + Math.min(columns - 1, Math.max(0, c))] as number;
  const across = (r: number): number =>
    cubic(at(column - 1, r), at(column, r), at(column + 1, r), at(column + 2, r), x - column);
  return cubic(across(row - 1), across(row), across(row + 1), across(row + 2), y - row);
}

/** The same ground at another cell size. */
export function resampled(grid: HeightGrid, columns: number, rows: number): HeightGrid {
  const cellM = (grid.columns * grid.cellM) / columns;
  return gridOf(newGrid(columns, rows, cellM), (east, north) => sampleSmooth(grid, east, north));
}

/** Mean over a square of side 2·radius + 1 cells, three times over: close to a bell-shaped blur. */
export function blurred(grid: HeightGrid, radius: number, passes = 3): HeightGrid {
  const { columns, rows, cellM } = grid;
  let from = Float64Array.from(grid.z);
  let to = new Float64Array(from.length);
  const line = (start: number, step: number, count: number): void => {
    let sum = 0;
    const at = (k: number): number => from[start + Math.min(count - 1, Math.max(0, k)) * step] as number;
    for (let k = -radius; k <= radius; k++) sum += at(k);
    for (let k = 0; k < count; k++) {
      to[start + k * step] = sum / (2 * radius + 1);
      sum += at(k + radius + 1) - at(k - radius);
    }
  };
  for (let pass = 0; pass < passes; pass++) {
    for (let row = 0; row < rows; row++) line(row * columns, 1, columns);
    [from, to] = [to, from];
    for (let column = 0; column < columns; column++) line(column, columns, rows);
    [from, to] = [to, from];
  }
  return { columns, rows, cellM, z: from };
}

export function smoothstep(edge0: number, edge1: number, x: number): number {
  const t = Math.min(1, Math.max(0, (x - edge0) / (edge1 - edge0)));
  return t * t * (3 - 2 * t);
}
