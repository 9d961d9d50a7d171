/** Maps on this computer, and the one that is open. */
import { batch, signal } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import type { MapInfo } from "../../core/map/metadata.ts";
import type { MapEntry, OpenedMap } from "../../electron/contract.ts";
import { say, sayFault } from "../app/notices.ts";
import { changeSettings } from "../app/settings.ts";
import { host } from "../host/host.ts";
import type { ArchiveAddress } from "../worker/messages.ts";
import { tileAddress } from "../map/archive-protocol.ts";
import { openGroundAsSet } from "./open-as-set.ts";
import type { MapTiles } from "../map/style/map-style.ts";
import { refreshFigures } from "../walk-state/figures.ts";
import { words } from "../words/words.ts";

export interface OpenMap {
  readonly entry: MapEntry | null;
  readonly opened: OpenedMap;
  readonly info: MapInfo;
  readonly tiles: MapTiles;
}

export const mapEntries = signal<readonly MapEntry[]>([]);
export const openMap = signal<OpenMap | null>(null);
/** Title of the map being opened; null when none is. */
export const openingMap = signal<string | null>(null);

let opening: AbortController | null = null;

export async function refreshMapCase(): Promise<void> {
  mapEntries.value = await host.listMaps();
}

/** Terrain tiles of our own archives are this wide. */
const TERRAIN_TILE = 512;

/** Where a worker reads an opened map. */
export function archivesOf({ archiveUrl, terrainUrl, fileName }: OpenedMap): {
  readonly archive: ArchiveAddress;
  readonly terrain: ArchiveAddress | null;
} {
  const at = (url: string): string => new URL(url, document.baseURI).href;
  return {
    archive: { url: at(archiveUrl), key: fileName },
    terrain: terrainUrl
      ? { url: at(terrainUrl), key: fileName.replace(/\.pmtiles$/, ".terrain.pmtiles") }
      : null,
  };
}

/**
 * Opens a map in the worker and on the screen; the one open before stays until the new one is there.
 * @returns whether it is open now
 */
export async function openMapById(id: string): Promise<boolean> {
  opening?.abort();
  const controller = new AbortController();
  opening = controller;
  const entry = mapEntries.value.find((one) => one.id === id) ?? null;
  openingMap.value = entry?.title ?? words.bar.map;
  try {
    if (entry?.fault) throw Fault.fromRecord(entry.fault);
    const opened = await host.openMap(id);
    const { archive, terrain } = archivesOf(opened);
    const { ground, notices } = await openGroundAsSet(archive, terrain, controller.signal);
    const address = await tileAddress(archive.url, archive.key);
    const heights = terrain && ground.hasTerrain ? await tileAddress(terrain.url, terrain.key) : null;
    if (controller.signal.aborted) return false;
    batch(() => {
      openMap.value = {
        entry,
        opened,
        info: ground.info,
        tiles: {
          info: ground.info,
          tiles: address.tiles,
          terrain: heights && { tiles: heights.tiles, maxZoom: heights.maxZoom, tileSize: TERRAIN_TILE },
        },
      };
      openingMap.value = null;
    });
    for (const notice of notices) say(notice);
    if (ground.terrainFault) say(words.notices.terrain(ground.terrainFault.what));
    changeSettings({ lastMapId: id });
    refreshFigures();
    return true;
  } catch (thrown) {
    sayFault(thrown);
    return false;
  } finally {
    if (opening === controller) {
      opening = null;
      openingMap.value = null;
    }
  }
}
