/** What the figures of a file may count in: datums and grids that are offered, and those of the settings. */
import { datumFrame, type FileFrame, gridFrame } from "../../core/exchange/file-frame.ts";
import { gridOf } from "../../core/geodesy/grid.ts";
import { OFFERED_GRIDS } from "../../core/geodesy/offered-grids.ts";
import { utmZoneOf } from "../../core/geodesy/utm-zone.ts";
import type { LonLat } from "../../core/units/position.ts";
import { knownGrid } from "../find/known-grids.ts";
import type { Settings } from "../../electron/contract.ts";
import { exchangeWords } from "../words/exchange-words.ts";

const { in: say } = exchangeWords;

export interface FigureSystem {
  readonly key: string;
  readonly label: string;
  /** Null is degrees on WGS 84. */
  readonly frame: FileFrame | null;
}

/** @param middle of the open map, which gives grids with zones theirs; null leaves those out */
export function figureSystems(middle: LonLat | null, grids: Settings["grids"]): FigureSystem[] {
  const systems: FigureSystem[] = [{ key: "", label: say.wgs84, frame: null }];
  for (const name of OFFERED_GRIDS) {
    const frame = datumFrame(name);
    systems.push({ key: `degrees ${name}`, label: say.degreesOn(frame.title), frame });
  }
  const zone = middle ? utmZoneOf(middle) : 0;
  if (middle && zone > 0) {
    const south = middle[1] < 0 ? " +south" : "";
    const title = `UTM ${zone}${south === "" ? "N" : "S"}`;
    const grid = gridOf(title, `+proj=utm +zone=${zone}${south} +datum=WGS84 +units=m`);
    systems.push({ key: "grid utm", label: say.utmHere(zone), frame: gridFrame(grid) });
  }
  for (const name of [...OFFERED_GRIDS, ...grids.map((grid) => grid.name)]) {
    try {
      const grid = knownGrid(name, grids)?.at(middle);
      if (grid) systems.push({ key: `grid ${name}`, label: say.gridOf(grid.title), frame: gridFrame(grid) });
    } catch {
      // A grid with zones says nothing before it is known where one is.
    }
  }
  return systems;
}

/** Metres in the unit chosen; null is the grid's own. The US survey foot is 1200/3937 m by definition. */
export const unitOf = (unit: string): number | null =>
  unit === "" ? null : unit === "us" ? 1200 / 3937 : Number(unit);
