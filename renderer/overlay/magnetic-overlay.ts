/** Lines that run to magnetic north over what is in view, each following the declination from place to place. */
import { DEG } from "../../core/units/angle.ts";
import type { LonLat } from "../../core/units/position.ts";
import type { OverlayLine, ViewBox } from "./view-box.ts";

/** Metres to a degree of latitude: lines are spaced by it, nothing is measured with it. */
const DEGREE_M = 111_320;
/** Steps from where lines begin across the view. */
const STEPS = 24;
const MOST_LINES = 120;

/**
 * @param whole bounds of the map: lines begin on the parallel through its middle, so that they stay where they are while the map is moved
 * @param declinationDeg east positive, at a place
 * @param spacingM between lines, at that parallel
 */
export function magneticOverlay(
  view: ViewBox,
  whole: ViewBox,
  declinationDeg: (at: LonLat) => number,
  spacingM: number,
): OverlayLine[] {
  const lat0 = (whole.south + whole.north) / 2;
  const lon0 = (whole.west + whole.east) / 2;
  const spacingDeg = spacingM / (DEGREE_M * Math.cos(lat0 * DEG));
  const low = Math.min(view.south, lat0);
  const high = Math.max(view.north, lat0);
  const stepDeg = (high - low) / STEPS;

  const trace = (lon: number): LonLat[] => {
    const up = follow([lon, lat0], high, stepDeg, declinationDeg);
    const down = follow([lon, lat0], low, stepDeg, declinationDeg);
    return [...down.toReversed(), [lon, lat0], ...up];
  };
  // How far a line drifts aside between the parallel it begins on and the view.
  const shifts = trace((view.west + view.east) / 2).map(([lon]) => lon - (view.west + view.east) / 2);
  const [least, most] = [Math.min(...shifts), Math.max(...shifts)];
  const first = Math.floor((view.west - most - lon0) / spacingDeg) - 1;
  const last = Math.ceil((view.east - least - lon0) / spacingDeg) + 1;
  if (last - first > MOST_LINES) return [];
  return Array.from({ length: last - first + 1 }, (_, i) => {
    const k = first + i;
    return { id: `magnetic ${k}`, lonLats: trace(lon0 + k * spacingDeg) };
  });
}

function follow(
  from: LonLat,
  toLat: number,
  stepDeg: number,
  declinationDeg: (at: LonLat) => number,
): LonLat[] {
  const sense = Math.sign(toLat - from[1]);
  if (sense === 0 || stepDeg === 0) return [];
  const line: LonLat[] = [];
  let [lon, lat] = from;
  while (sense * (toLat - lat) > 1e-12) {
    const dLat = sense * Math.min(stepDeg, Math.abs(toLat - lat));
    // The step is taken with the declination of its middle.
    const half = ease([lon, lat], dLat / 2, declinationDeg([lon, lat]));
    [lon, lat] = ease([lon, lat], dLat, declinationDeg(half));
    line.push([lon, lat]);
  }
  return line;
}

const ease = ([lon, lat]: LonLat, dLat: number, bearingDeg: number): LonLat => [
  lon + (dLat * Math.tan(bearingDeg * DEG)) / Math.cos((lat + dLat / 2) * DEG),
  lat + dLat,
];
