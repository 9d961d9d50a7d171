/** The declination over a map as a quick function of the place: asked of the model at the map's corners, between them in proportion. */
import { toUtm } from "../../core/geodesy/utm.ts";
import { declinationsAt } from "../../core/legs/norths/declinations.ts";
import type { LonLat } from "../../core/units/position.ts";
import type { LegSettings } from "../../core/legs/leg-settings.ts";
import type { ViewBox } from "./view-box.ts";

/** @returns null where the declination in force is not known somewhere on the map */
export function declinationField(
  { west, south, east, north }: ViewBox,
  settings: Pick<LegSettings, "date" | "declination">,
): ((at: LonLat) => number) | null {
  const at = (lon: number, lat: number): number | null =>
    declinationsAt([lon, lat], null, toUtm([lon, lat]).convergenceDeg, settings).deg;
  const [sw, se, nw, ne] = [at(west, south), at(east, south), at(west, north), at(east, north)];
  if (sw === null || se === null || nw === null || ne === null) return null;
  const between = (a: number, b: number, share: number): number => a + (b - a) * share;
  return ([lon, lat]) => {
    const x = (lon - west) / (east - west);
    const y = (lat - south) / (north - south);
    return between(between(sw, se, x), between(nw, ne, x), y);
  };
}
