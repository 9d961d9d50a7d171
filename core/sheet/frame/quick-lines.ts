/**
 * Many positions to paper quickly. A grid's projection is so smooth over one sheet that a polynomial through its exact values at
 * some places of the sheet stands for it everywhere: Chebyshev interpolation, see L. N. Trefethen, Approximation Theory and
 * Approximation Practice (SIAM, 2013), chapters 3 and 4. It is compared with the exact one before it is used.
 */
import type { Bbox, LonLat } from "../../units/position.ts";
import type { PaperPoint } from "../page/page.ts";

const DEGREE = 5;
const NODES = DEGREE + 1;
/** Farther off than this anywhere it was tried, millimetres, it is not used. */
const TRUSTED_MM = 0.0002;
/** Where it is tried, between the nodes and at the rim. */
const TRIED = [-1, -0.87, -0.55, -0.2, 0.11, 0.38, 0.71, 0.96, 1];
/** Lines reach beyond the sheet, as tiles do: by so much of its width and height on every side. */
const BEYOND = 0.5;

type Exact = (lonLat: LonLat) => PaperPoint;

/**
 * The same as the exact projection of every position, within 0.001 mm; positions far beyond the sheet are projected exactly.
 * @param exact degrees to millimetres
 * @param bbox the sheet's ground
 */
export function quickLines(exact: Exact, bbox: Bbox): (coords: Float64Array) => Float64Array {
  let net: Net | null = null;
  return (coords) => {
    // No sheet pays before it draws.
    net ??= netOf(exact, bbox) ?? NO_NET;
    const line = new Float64Array(coords.length);
    for (let i = 0; i < coords.length; i += 2) {
      const [lon, lat] = [coords[i] as number, coords[i + 1] as number];
      if (inside(net, lon, lat)) evaluate(net, lon, lat, line, i);
      else {
        const [x, y] = exact([lon, lat]);
        line[i] = x;
        line[i + 1] = y;
      }
    }
    return line;
  };
}

/** Ground box told as middle and half of its sides, and the polynomials' coefficients by powers of both. */
interface Net {
  readonly lon: number;
  readonly lat: number;
  readonly halfLon: number;
  readonly halfLat: number;
  readonly xs: Float64Array;
  readonly ys: Float64Array;
}
const NONE = new Float64Array(0);
/** No position is inside. */
const NO_NET: Net = { lon: 0, lat: 0, halfLon: -1, halfLat: -1, xs: NONE, ys: NONE };

const inside = (net: Net, lon: number, lat: number): boolean =>
  Math.abs(lon - net.lon) <= net.halfLon && Math.abs(lat - net.lat) <= net.halfLat;

function netOf(exact: Exact, [west, south, east, north]: Bbox): Net | null {
  const half = 0.5 + BEYOND;
  const box = {
    lon: (west + east) / 2,
    lat: (south + north) / 2,
    halfLon: (east - west) * half,
    halfLat: (north - south) * half,
  };
  // Over a pole and across the line where longitudes jump it is not smooth in longitude and latitude.
  if (Math.abs(box.lat) + box.halfLat >= 89.9 || Math.abs(box.lon) + box.halfLon >= 180) return null;
  const at = (u: number, v: number): PaperPoint =>
    exact([box.lon + u * box.halfLon, box.lat + v * box.halfLat]);
  try {
    const net = { ...box, ...coefficients(at) };
    const found = new Float64Array(2);
    for (const u of TRIED)
      for (const v of TRIED) {
        const [x, y] = at(u, v);
        evaluate(net, box.lon + u * box.halfLon, box.lat + v * box.halfLat, found, 0);
        if (!(Math.hypot((found[0] as number) - x, (found[1] as number) - y) <= TRUSTED_MM)) return null;
      }
    return net;
  } catch {
    // The grid has no value somewhere around the sheet; on the sheet itself it may have.
    return null;
  }
}

/** Coefficients of the products of Chebyshev polynomials, from values at their nodes. */
function coefficients(at: (u: number, v: number) => PaperPoint): { xs: Float64Array; ys: Float64Array } {
  const angles = Array.from({ length: NODES }, (_, k) => (Math.PI * (k + 0.5)) / NODES);
  const values = angles.map((a) => angles.map((b) => at(Math.cos(a), Math.cos(b))));
  const [xs, ys] = [new Float64Array(NODES * NODES), new Float64Array(NODES * NODES)];
  for (let i = 0; i < NODES; i++)
    for (let j = 0; j < NODES; j++) {
      let [x, y] = [0, 0];
      for (const [k, a] of angles.entries())
        for (const [l, b] of angles.entries()) {
          const weight = Math.cos(i * a) * Math.cos(j * b);
          const value = (values[k] as PaperPoint[])[l] as PaperPoint;
          x += weight * value[0];
          y += weight * value[1];
        }
      const share = ((i ? 2 : 1) * (j ? 2 : 1)) / (NODES * NODES);
      xs[i * NODES + j] = x * share;
      ys[i * NODES + j] = y * share;
    }
  return { xs, ys };
}

/** Terms of a higher total degree than the rest are left out: they are the smallest. */
function evaluate(net: Net, lon: number, lat: number, into: Float64Array, at: number): void {
  const { xs, ys } = net;
  const u = (lon - net.lon) / net.halfLon;
  const v = (lat - net.lat) / net.halfLat;
  const twice = 2 * v;
  let x = 0;
  let y = 0;
  let before = u;
  let now = 1;
  for (let i = 0, row = 0; i < NODES; i++, row += NODES) {
    // Sum over the other direction by Clenshaw's rule.
    let [bx, by, lastX, lastY] = [0, 0, 0, 0];
    for (let k = row + DEGREE - i; k > row; k--) {
      const nextX = twice * bx - lastX + (xs[k] as number);
      const nextY = twice * by - lastY + (ys[k] as number);
      lastX = bx;
      lastY = by;
      bx = nextX;
      by = nextY;
    }
    x += now * (v * bx - lastX + (xs[row] as number));
    y += now * (v * by - lastY + (ys[row] as number));
    const next = 2 * u * now - before;
    before = now;
    now = next;
  }
  into[at] = x;
  into[at + 1] = y;
}
