/**
 * How old datums lie to WGS 84 where a definition names a shift grid, a file that is not at hand here.
 * Three or seven constants stand in for it: a few metres at worst for the British and German ones, 10 to 20 m for NAD27.
 */
import type { Bbox } from "../../units/position.ts";

/**
 * Source: EPSG dataset as in PROJ 9.1, transformations 1314 (OSGB36 to WGS 84, 2 m), 1777 (DHDN, 3 m),
 * 1564 (NZGD49, 4 m), 1193 (NTF, 2 m), 1173, 1176 and 1172 (NAD27: United States 10 m, Alaska 12 m, Canada 20 m).
 */
const BY_GRID: readonly (readonly [grid: RegExp, constants: string])[] = [
  [/OSTN/i, "446.448,-125.157,542.06,0.15,0.247,0.842,-20.489"],
  [/BETA2007/i, "598.1,73.7,418.2,0.202,0.045,-2.455,6.7"],
  [/nzgd2k/i, "59.47,-5.04,187.44,0.47,-0.1,1.024,-4.5993"],
];
const NAD27 = { contiguous: "-8,160,176", alaska: "-5,135,172", canada: "-10,158,187" };

/** @param area where the system is used; null when that is not known */
function nad27Shift(area: Bbox | null): string {
  if (!area) return NAD27.contiguous;
  // Many a zone reaches from Mexico to the Arctic: most of what is mapped in it lies in its south.
  if (area[1] < 45) return NAD27.contiguous;
  const [lon, lat] = [(area[0] + area[2]) / 2, (area[1] + area[3]) / 2];
  return lon < -141 || (lat < 60 && lon < -130) ? NAD27.alaska : NAD27.canada;
}

/**
 * A PROJ definition that needs no shift grid, and whether it still says how its datum lies to WGS 84.
 * The order of axes is dropped as well: rasters are laid out easting first, whatever the register says.
 */
export function shiftedDatum(
  definition: string,
  area: Bbox | null,
): { readonly proj: string; readonly datumKnown: boolean } {
  const plain = definition.replaceAll(/\s*\+(?:axis|type)=\S+/g, "");
  // The register leaves out how the French datum lies: on its ellipsoid, and in France.
  const france = /\+ellps=clrk80ign\b/.test(plain) && area !== null && area[1] > 41;
  if (france && !/\+(?:towgs84|nadgrids)=/.test(plain))
    return { proj: `${plain} +towgs84=-168,-60,320,0,0,0,0`, datumKnown: true };
  const grid = /\+nadgrids=("[^"]*"|\S+)/.exec(plain)?.[1];
  const nad27 = /\+datum=NAD27\b/.test(plain);
  if (nad27)
    return {
      proj: plain.replace("+datum=NAD27", `+ellps=clrk66 +towgs84=${nad27Shift(area)},0,0,0,0`),
      datumKnown: true,
    };
  if (grid === undefined || grid === "@null")
    return { proj: plain, datumKnown: /\+(?:datum|towgs84|nadgrids)=|\+ellps=(?:GRS80|WGS84)\b/.test(plain) };
  const constants =
    BY_GRID.find(([name]) => name.test(grid))?.[1] ??
    (/\+ellps=clrk66/.test(plain) ? `${nad27Shift(area)},0,0,0,0` : null);
  const without = plain.replace(/\s*\+nadgrids=("[^"]*"|\S+)/, "");
  return constants === null
    ? { proj: without, datumKnown: false }
    : { proj: `${without} +towgs84=${constants}`, datumKnown: true };
}
