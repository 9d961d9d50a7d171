/** Whether a model's numbers make sense in the coordinate system it is said to be in, and if not, what is probably wrong. */
import proj4 from "proj4";
import { Fault } from "../../fault.ts";
import type { Bbox } from "../../units/position.ts";
import type { GridCrs } from "./elevation-grid.ts";
import { WGS84 } from "./elevation-grid.ts";
import type { GridFrame } from "./elevation-model.ts";
import { inDegrees } from "./grid-crs.ts";

const CHECK = "Look at it with gdalinfo FILE, and name the right system with --crs.";
const SWAP =
  "Exchange its axes first, for example: gdal_translate -a_ullr WEST NORTH EAST SOUTH after turning the raster, or get the file anew.";

/**
 * The frame, its longitudes brought from 0–360° to ±180° where need be.
 * @throws Fault "bad-elevation" when its numbers are not finite, no degrees, degrees where metres should be, seem to
 *   have longitude and latitude exchanged, or lie far outside the area the system is used in
 */
export function checkPlace<F extends GridFrame>(frame: F): F {
  const { key, columns, rows, origin, step, crs } = frame;
  const fail = (what: string, remedy = CHECK): never => {
    throw new Fault("bad-elevation", what, key, remedy);
  };
  if (![...origin, ...step].every(Number.isFinite) || !(step[0] > 0) || !(step[1] < 0))
    fail("The file's origin and cell size are not numbers that place it on the ground.");
  const [west, north] = origin;
  const [east, south] = [west + (columns - 1) * step[0], north + (rows - 1) * step[1]];
  const says = `${round(west)} to ${round(east)} east and ${round(south)} to ${round(north)} north`;
  if (inDegrees(crs)) {
    const edge = 1e-6;
    if (Math.abs(north) > 90 + edge || Math.abs(south) > 90 + edge) {
      if (Math.max(Math.abs(west), Math.abs(east)) <= 90 && Math.max(Math.abs(north), Math.abs(south)) <= 180)
        return fail(
          `Its latitudes run from ${round(south)} to ${round(north)}: latitude and longitude seem to be exchanged.`,
          SWAP,
        );
      return fail(`In ${crs.name}, which counts in degrees, the file lies at ${says}: those are no degrees.`);
    }
    if (west < -360 || east > 540)
      return fail(`In ${crs.name} the file lies at ${says}: those are no degrees.`);
    if (west >= 180 - edge) return checkArea({ ...frame, origin: [west - 360, north] }, says);
    return checkArea(frame, says);
  }
  const likeDegrees =
    step[0] < 0.05 &&
    Math.abs(west) <= 360 &&
    Math.abs(east) <= 360 &&
    Math.abs(north) <= 180 &&
    Math.abs(south) <= 180;
  if (likeDegrees)
    return fail(
      `The file lies at ${says}, which look like degrees, but ${crs.name} is not a system of degrees.`,
      "Name the right system, probably --crs EPSG:4326.",
    );
  return checkArea(frame, says);
}

function checkArea<F extends GridFrame>(frame: F, says: string): F {
  const { key, columns, rows, origin, step, crs } = frame;
  const x = origin[0] + ((columns - 1) / 2) * step[0];
  const y = origin[1] + ((rows - 1) / 2) * step[1];
  const area = crs.area;
  if (!area || placed(crs, x, y, area)) return frame;
  const swapped = placed(crs, y, x, area);
  throw new Fault(
    "bad-elevation",
    swapped
      ? `The file lies at ${says}, far from where ${crs.name} is used; with its axes exchanged it would lie there: latitude and longitude, or northing and easting, seem to be exchanged.`
      : `The file lies at ${says}, far from where ${crs.name} is used (${area.map(round).join(", ")} degrees): its system or its place is wrong.`,
    key,
    swapped ? SWAP : `${CHECK} To insist on this one, give its PROJ definition.`,
  );
}

/** Whether a place is in the area, or within the area's own size of it. */
function placed(crs: GridCrs, x: number, y: number, [west, south, east, north]: Bbox): boolean {
  try {
    const [lon, lat] = proj4(crs.proj, WGS84.proj).forward<[number, number]>([x, y]);
    const [dx, dy] = [Math.max(1, east - west), Math.max(1, north - south)];
    return lon >= west - dx && lon <= east + dx && lat >= south - dy && lat <= north + dy;
  } catch {
    return false;
  }
}

const round = (value: number): number => Number(value.toPrecision(8));
