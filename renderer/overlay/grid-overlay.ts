/** Lines of the shown grid over what is in view: of UTM, zone by zone, or of the grid the person reads positions in. */
import type { Projection } from "../../core/geodesy/projection.ts";
import { utmProjection } from "../../core/geodesy/utm.ts";
import { utmZoneOf } from "../../core/geodesy/utm-zone.ts";
import type { LonLat } from "../../core/units/position.ts";
import { edgeOf, type OverlayLine, type ViewBox } from "./view-box.ts";

export interface GridOverlayLine extends OverlayLine {
  readonly axis: "easting" | "northing";
  /** Metres of the grid. */
  readonly value: number;
  /** As maps print it beside a line: the figures that change from line to line. */
  readonly label: string;
}

/** As on printed maps. */
const STEPS_M = [100, 1000, 10_000, 100_000] as const;
/** Lines nearer each other than this hide the map. */
const LEAST_PX = 64;
/** A line bows by less than a pixel between so many places in view. */
const PARTS = 12;
/** More than a screen can show: a view that asks for them lies where the grid means nothing. */
const MOST_LINES = 200;

/** @returns null where the map is so small that even the widest lines would lie too close */
export const gridOverlayStepM = (metresPerPixel: number): number | null =>
  STEPS_M.find((step) => step / metresPerPixel >= LEAST_PX) ?? null;

/** A projection with the places it is used at. */
interface Part {
  readonly id: string;
  readonly projection: Projection;
  readonly holds: (at: LonLat) => boolean;
}

/** @param own the person's grid; null takes UTM */
export function gridOverlay(view: ViewBox, own: Projection | null, stepM: number): GridOverlayLine[] {
  const places = edgeOf(view);
  const parts: Part[] = own ? [{ id: "own", projection: own, holds: () => true }] : utmParts(places);
  return parts.flatMap((part) => linesOf(part, places, stepM));
}

function utmParts(places: readonly LonLat[]): Part[] {
  const parts = new Map<string, Part>();
  for (const place of places) {
    const zone = utmZoneOf(place);
    const hemisphere = place[1] < 0 ? "S" : "N";
    const id = `${zone}${hemisphere}`;
    if (!parts.has(id))
      parts.set(id, {
        id,
        projection: utmProjection(zone, hemisphere),
        holds: (at) => utmZoneOf(at) === zone && (at[1] < 0 ? "S" : "N") === hemisphere,
      });
  }
  return [...parts.values()];
}

function linesOf(
  { id, projection, holds }: Part,
  places: readonly LonLat[],
  stepM: number,
): GridOverlayLine[] {
  let [minE, maxE, minN, maxN] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const place of places) {
    if (!holds(place)) continue;
    const [e, n] = projection.forward(place);
    [minE, maxE] = [Math.min(minE, e), Math.max(maxE, e)];
    [minN, maxN] = [Math.min(minN, n), Math.max(maxN, n)];
  }
  // The edge of a zone may lie a little farther than the places looked at.
  const roomM = stepM;
  const values = (min: number, max: number): number[] => {
    const first = Math.ceil((min - roomM) / stepM);
    const count = Math.floor((max + roomM) / stepM) - first + 1;
    return count > 0 && count <= MOST_LINES
      ? Array.from({ length: count }, (_, i) => (first + i) * stepM)
      : [];
  };
  const line = (axis: GridOverlayLine["axis"], value: number): GridOverlayLine[] => {
    const runs: LonLat[][] = [[]];
    for (let i = 0; i <= PARTS; i++) {
      const share = i / PARTS;
      const at = projection.inverse(
        axis === "easting"
          ? [value, minN - roomM + share * (maxN - minN + 2 * roomM)]
          : [minE - roomM + share * (maxE - minE + 2 * roomM), value],
      );
      if (holds(at)) (runs.at(-1) as LonLat[]).push(at);
      else if ((runs.at(-1) as LonLat[]).length > 0) runs.push([]);
    }
    return runs
      .filter(({ length }) => length > 1)
      .map((lonLats, k) => ({
        id: `${id} ${axis} ${value} ${k}`,
        axis,
        value,
        label: gridLabel(value, stepM),
        lonLats,
      }));
  };
  return [
    ...values(minE, maxE).flatMap((value) => line("easting", value)),
    ...values(minN, maxN).flatMap((value) => line("northing", value)),
  ];
}

/** Two figures for kilometres, three for hundreds of metres: what a grid reference takes from a line. */
export function gridLabel(value: number, stepM: number): string {
  if (stepM >= 100_000) return String(Math.round(value / 1000));
  const [unit, figures] = stepM >= 1000 ? [1000, 2] : [100, 3];
  const wrap = 10 ** figures;
  const shown = ((Math.round(value / unit) % wrap) + wrap) % wrap;
  return String(shown).padStart(figures, "0");
}
