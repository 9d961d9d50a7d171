/**
 * Whose grid lies where on a sheet. Where two UTM zones meet, map makers draw each zone's grid up to the border (from memory,
 * after the practice of NGA.STND.0037); the sheet's own grid carried on across it is the other choice.
 */
import { bandOf, type UtmZone, utmZoneOf } from "../../geodesy/utm-zone.ts";
import { utmProjection } from "../../geodesy/utm.ts";
import type { LonLat } from "../../units/position.ts";
import type { SheetFrame, SheetGrid } from "../frame/sheet-frame.ts";
import { clipPolyline } from "./clip-paper.ts";

export interface ShownGrid {
  readonly grid: SheetGrid;
  /** The sheet's own: its lines are straight on it. */
  readonly own: boolean;
  /** Where it is drawn; null for the whole sheet. */
  readonly holds: ((lonLat: LonLat) => boolean) | null;
}

export interface ShownGrids {
  readonly grids: readonly ShownGrid[];
  /** Where zones meet, on paper. */
  readonly borders: readonly Float64Array[];
  readonly notes: readonly string[];
}

/** Positions along the neat line, a millimetre apart, in order. */
export function alongNeatLine({ map: { x, y, width, height } }: SheetFrame): [number, number][] {
  const along: [number, number][] = [];
  const side = (ax: number, ay: number, bx: number, by: number): void => {
    const steps = Math.ceil(Math.hypot(bx - ax, by - ay));
    for (let i = 0; i < steps; i++) along.push([ax + ((bx - ax) * i) / steps, ay + ((by - ay) * i) / steps]);
  };
  side(x, y, x + width, y);
  side(x + width, y, x + width, y + height);
  side(x + width, y + height, x, y + height);
  side(x, y + height, x, y);
  return along;
}

const zoneTitle = (zone: UtmZone, hemisphere: "N" | "S"): string =>
  zone === 0 ? (hemisphere === "N" ? "UPS north" : "UPS south") : `UTM zone ${zone}`;

export function shownGrids(frame: SheetFrame, join: "neighbour" | "carryOn"): ShownGrids {
  const { grid } = frame;
  const whole: ShownGrid = { grid, own: true, holds: null };
  if (grid.own) return { grids: [whole], borders: [], notes: [] };
  const own = grid.zone ?? 0;
  const around = alongNeatLine(frame).map((at) => frame.toLonLat(at));
  const zones = new Set(around.map(utmZoneOf));
  const notes = bandNotes(around);
  if (zones.size === 1 && zones.has(own)) return { grids: [whole], borders: [], notes };
  const others = [...zones].filter((zone) => zone !== own).sort((a, b) => a - b);
  const named = others.map((zone) => zoneTitle(zone, grid.hemisphere)).join(" and ");
  const borders = zones.size > 1 ? zoneBorders(frame) : [];
  if (join === "carryOn" || utmZoneOf(frame.centre) !== own) {
    const where = zones.has(own) ? `Part of this sheet lies in ${named}` : `This sheet lies in ${named}`;
    notes.push(
      `${where}, but the lines of ${grid.title} are carried on over it: a receiver gives other figures there.`,
    );
    return { grids: [whole], borders, notes };
  }
  notes.push(
    `Two grids meet on this sheet: ${grid.title} and ${named}. Measure no bearing and count no squares across the border.`,
  );
  const grids = [own, ...others].map((zone): ShownGrid => {
    const holds = (lonLat: LonLat): boolean => utmZoneOf(lonLat) === zone;
    if (zone === own) return { ...whole, holds };
    const { hemisphere } = grid;
    const projection = utmProjection(zone, hemisphere);
    return {
      grid: { title: zoneTitle(zone, hemisphere), zone: zone || null, hemisphere, projection, own: null },
      own: false,
      holds,
    };
  });
  return { grids, borders, notes };
}

/** Meridians and parallels on which zones can meet, the exceptions of the north and the polar caps included. */
function zoneBorders(frame: SheetFrame): Float64Array[] {
  const [west, south, east, north] = frame.bbox;
  const line = (at: (share: number) => LonLat, aside: readonly [number, number]): Float64Array[] => {
    const path: number[] = [];
    const pieces: Float64Array[] = [];
    const end = (): void => {
      if (path.length >= 4) pieces.push(...clipPolyline(Float64Array.from(path), frame.map));
      path.length = 0;
    };
    for (let i = 0; i <= 400; i++) {
      const [lon, lat] = at(i / 400);
      const side = (sign: 1 | -1): LonLat => [
        Math.max(-180, Math.min(180, lon + sign * aside[0])),
        Math.max(-90, Math.min(90, lat + sign * aside[1])),
      ];
      if (utmZoneOf(side(1)) === utmZoneOf(side(-1))) end();
      else path.push(...frame.toPaper([lon, lat]));
    }
    end();
    return pieces;
  };
  const borders: Float64Array[] = [];
  for (let lon = Math.ceil(west / 3) * 3; lon <= east; lon += 3)
    borders.push(...line((share) => [lon, south + share * (north - south)], [1e-7, 0]));
  for (const lat of [-80, 56, 64, 72, 84])
    if (lat > south && lat < north)
      borders.push(...line((share) => [west + share * (east - west), lat], [0, 1e-7]));
  return borders;
}

/** Latitude bands of MGRS on the sheet, where there is more than one. */
function bandNotes(around: readonly LonLat[]): string[] {
  const lats = around.map(([, lat]) => lat);
  const [south, north] = [Math.min(...lats), Math.max(...lats)];
  if (south < -80 || north >= 84) return [];
  const [low, high] = [bandOf(south), bandOf(north)];
  if (low === high) return [];
  const edge = Math.floor(north / 8) * 8;
  if (edge === 0)
    return [
      `The equator crosses this sheet: references begin with band ${high} north of it and band ${low} south of it, where northings are counted from 10 000 000 m.`,
    ];
  const name = `${Math.abs(edge)}° ${edge > 0 ? "N" : "S"}`;
  return [`References begin with band ${high} north of ${name} and band ${low} south of it.`];
}
