/**
 * Map projections by their PROJ definition, and what a projection does to angles and lengths at a place.
 * Only this file imports proj4, whose results are loosely typed.
 */
import proj4, { type Converter } from "proj4";
import { Fault } from "../fault.ts";
import { DEG } from "../units/angle.ts";
import { checkLonLat, type LonLat } from "../units/position.ts";
import { FLATTENING, meridianRadius, SEMI_MAJOR_M } from "./ellipsoid.ts";

/** Easting and northing in a grid, metres. */
export type EastNorth = readonly [eastingM: number, northingM: number];

export interface Projection {
  /** @throws Fault "bad-argument" for a position that is none, "out-of-range" where the projection has no value */
  forward(lonLat: LonLat): EastNorth;
  /** @throws Fault "bad-argument" for figures that are not finite, "out-of-range" where there is no such place */
  inverse(eastNorth: EastNorth): LonLat;
  /** Metres in the unit the grid itself counts in: 1, or 0.3048… for feet. Coordinates here are metres all the same. */
  readonly unitM: number;
  /** Whether the definition says how its datum lies to WGS 84. Where it does not, positions may be off by hundreds of metres. */
  readonly datumKnown: boolean;
}

/** What is used of a definition as proj4 has read it; its own types leave some of these out. */
interface ReadDefinition {
  readonly projName?: string;
  readonly to_meter?: number;
  readonly a: number;
  readonly rf?: number | undefined;
  readonly datum: { readonly datum_type: number };
}

/**
 * proj4's marks of datums it can shift: three constants, seven, none needed. The others are an ellipsoid alone and
 * shift grids, which are not at hand.
 */
const KNOWN_DATUMS = [1, 2, 4];

export interface GridFactors {
  /** Grid north minus true north, degrees, east positive. */
  readonly convergenceDeg: number;
  /** Length in the grid over length on the ellipsoid, along the meridian. */
  readonly scale: number;
}

/**
 * The projection a PROJ string or WKT defines, from and to WGS 84.
 * @throws Fault "bad-argument" when the definition cannot be read
 */
export function projectionOf(definition: string): Projection {
  let converter: Converter;
  let read: ReadDefinition;
  try {
    converter = proj4("WGS84", definition);
    read = new proj4.Proj(definition);
  } catch (thrown) {
    // The library throws plain strings as well.
    const reason = thrown instanceof Error ? thrown.message : String(thrown);
    throw new Fault(
      "bad-argument",
      "The grid's definition cannot be read.",
      `${definition}: ${reason}`,
      "Give a PROJ string such as +proj=utm +zone=32 +datum=WGS84.",
    );
  }
  if (read.projName === "longlat")
    throw new Fault(
      "bad-argument",
      "The definition is of latitude and longitude, not of a grid.",
      definition,
    );
  const unitM = read.to_meter ?? 1;
  // Both ellipsoids lie within a tenth of a millimetre of each other.
  const likeWgs84 = read.a === SEMI_MAJOR_M && Math.abs(1 / (read.rf ?? 0) - FLATTENING) < 1e-9;
  const pair = (compute: () => readonly number[], what: string): readonly [number, number] => {
    let [a, b]: readonly (number | undefined)[] = [];
    try {
      [a, b] = compute();
    } catch {
      // Left undefined: the same as no finite result.
    }
    if (a === undefined || b === undefined || !Number.isFinite(a) || !Number.isFinite(b))
      throw new Fault("out-of-range", `The grid has no ${what} there.`, definition);
    return [a, b];
  };
  return {
    unitM,
    datumKnown: KNOWN_DATUMS.includes(read.datum.datum_type) || likeWgs84,
    forward: (lonLat) => {
      checkLonLat(lonLat);
      const [e, n] = pair(() => converter.forward([lonLat[0], lonLat[1]]), "coordinates");
      return [e * unitM, n * unitM];
    },
    inverse: ([e, n]) => {
      if (!Number.isFinite(e) || !Number.isFinite(n))
        throw new Fault("bad-argument", `Grid coordinates must be numbers, not ${String(e)}, ${String(n)}.`);
      const [lon, lat] = pair(() => converter.inverse([e / unitM, n / unitM]), "place");
      // The library's half circle is rounded to 12 figures: longitudes may come out 1e-11° beyond it.
      return [Math.max(-180, Math.min(180, lon)), lat];
    },
  };
}

/**
 * Convergence and scale of any projection, by differences along the meridian.
 * The stencil is of fourth order over ±0.004° (about 450 m): what it leaves out and the rounding of 64-bit
 * coordinates both stay under 1e-9°, so transverse Mercator agrees with its series to that.
 * @throws as `forward` does; also within 0.004° of a pole, where the meridian ends
 */
export function gridFactors(projection: Projection, lonLat: LonLat): GridFactors {
  const [lon, lat] = lonLat;
  const step = 0.002;
  const at = (k: number): EastNorth => projection.forward([lon, lat + k * step]);
  const [a, b, c, d] = [at(-2), at(-1), at(1), at(2)];
  const slope = (i: 0 | 1): number => (8 * (c[i] - b[i]) - (d[i] - a[i])) / (12 * step * DEG);
  const dE = slope(0);
  const dN = slope(1);
  // True north lies at −convergence in the grid. "+ 0" keeps −0 from being shown.
  return { convergenceDeg: -Math.atan2(dE, dN) / DEG + 0, scale: Math.hypot(dE, dN) / meridianRadius(lat) };
}
