/** Maps on this computer, and the one that is open: by itself, or as the ground under a scanned sheet. */
import { batch, computed, signal } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import type { MapInfo } from "../../core/map/metadata.ts";
import { openSheet } from "../../core/map/read-info.ts";
import type { MapEntry, OpenedMap } from "../../electron/contract.ts";
import { type NoticeAct, say, sayFault } from "../app/notices.ts";
import { worker } from "../analysis/worker.ts";
import { changeSettings, settings } from "../app/settings.ts";
import { GROUND_DECODERS } from "../archive/ground-decoders.ts";
import { rangeSource } from "../archive/range-source.ts";
import { host } from "../host/host.ts";
import type { ArchiveAddress } from "../worker/messages.ts";
import { type ArchiveTrouble, tileAddress } from "../map/archive-protocol.ts";
import { serveSheet } from "../map/sheet-protocol.ts";
import type { ThemeName } from "../theme/theme.ts";
import { openGroundAsSet } from "./open-as-set.ts";
import { groundOf } from "./sheet-ground.ts";
import type { MapTiles } from "../map/style/map-style.ts";
import { refreshFigures } from "../walk-state/figures.ts";
import { faultWords } from "../words/fault-words.ts";
import { sheetWords } from "../words/sheet-words.ts";
import { words } from "../words/words.ts";

/** A map that figures are worked out from. */
export interface OpenMap {
  readonly entry: MapEntry | null;
  readonly opened: OpenedMap;
  readonly info: MapInfo;
  readonly tiles: MapTiles;
}

export const mapEntries = signal<readonly MapEntry[]>([]);
/** What figures, aids and paper go by. */
export const openMap = signal<OpenMap | null>(null);

/** A scanned sheet, which only shows. */
export interface ShownSheet {
  readonly entry: MapEntry;
  readonly info: MapInfo;
  /** Pixels across. */
  readonly tileSize: number;
  readonly tilesIn: (tint: ThemeName) => string;
}

/** Over the open map, or over none. */
export const shownSheet = signal<ShownSheet | null>(null);

/** What a person calls the map: the sheet where there is one, else the map that is open. */
export const shownMap = computed<{
  readonly id: string;
  readonly title: string;
  readonly entry: MapEntry | null;
  readonly info: MapInfo;
} | null>(() => {
  const sheet = shownSheet.value;
  if (sheet) return { id: sheet.entry.id, title: sheet.entry.title, entry: sheet.entry, info: sheet.info };
  const open = openMap.value;
  return open && { id: open.opened.id, title: open.info.title, entry: open.entry, info: open.info };
});

/** Names of open files that were replaced, changed or removed under the window. */
export const staleFiles = signal<ReadonlySet<string>>(new Set());

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

/** Opens a map in the worker. @throws Fault */
async function readMap(
  id: string,
  signal: AbortSignal,
): Promise<{ readonly map: OpenMap; readonly notices: readonly string[] }> {
  const entry = mapEntries.value.find((one) => one.id === id) ?? null;
  if (entry?.fault) throw Fault.fromRecord(entry.fault);
  const opened = await host.openMap(id);
  const { archive, terrain } = archivesOf(opened);
  const { ground, notices } = await openGroundAsSet(archive, terrain, signal);
  const { info, hasTerrain, terrainFault } = ground;
  const { tiles } = await tileAddress(archive.url, archive.key, TROUBLE);
  const heights = terrain && hasTerrain ? await tileAddress(terrain.url, terrain.key, TROUBLE) : null;
  return {
    map: {
      entry,
      opened,
      info,
      tiles: {
        info,
        tiles,
        terrain: heights && { tiles: heights.tiles, maxZoom: heights.maxZoom, tileSize: TERRAIN_TILE },
      },
    },
    notices: terrainFault ? [...notices, words.notices.terrain(terrainFault.what)] : notices,
  };
}

/** Opens a scanned sheet, but does not show it yet. @throws Fault */
async function readSheet(entry: MapEntry): Promise<() => ShownSheet> {
  if (entry.fault) throw Fault.fromRecord(entry.fault);
  const { archive: address } = archivesOf(await host.openMap(entry.id));
  const source = rangeSource(address.url, address.key, TROUBLE.gone);
  const { archive, info, tileSize } = await openSheet(source, GROUND_DECODERS);
  const { title } = entry;
  return () => ({ entry, info, tileSize, tilesIn: serveSheet({ archive, title, tileSize }) });
}

/** The map under a sheet; one that cannot be opened does not take the sheet away. @throws Fault "cancelled" */
async function readGround(
  sheet: MapEntry,
  signal: AbortSignal,
): Promise<{ readonly map: OpenMap | null; readonly notices: readonly string[] }> {
  const id = groundOf(sheet, mapEntries.value, settings.value.sheetGrounds);
  let notice: string | null = null;
  if (id !== null)
    try {
      return await readMap(id, signal);
    } catch (thrown) {
      const fault = Fault.from(thrown);
      if (fault.code === "cancelled") throw fault;
      const title = mapEntries.value.find((one) => one.id === id)?.title ?? id;
      notice = sheetWords.groundFails(fault.what, title);
    }
  await worker.ask("closeMap", [], signal);
  return { map: null, notices: notice === null ? [] : [notice] };
}

/**
 * Opens a map in the worker and on the screen, or a scanned sheet with the map that is its ground; what was open before
 * stays until the new one is there.
 * @returns whether it is open now
 */
export async function openMapById(id: string): Promise<boolean> {
  opening?.abort();
  const controller = new AbortController();
  const { signal } = controller;
  opening = controller;
  const entry = mapEntries.value.find((one) => one.id === id) ?? null;
  openingMap.value = entry?.title ?? words.bar.map;
  try {
    const sheet = entry?.pictures ? { entry, show: await readSheet(entry) } : null;
    if (signal.aborted) return false;
    const { map, notices } = sheet ? await readGround(sheet.entry, signal) : await readMap(id, signal);
    if (signal.aborted) return false;
    batch(() => {
      shownSheet.value = sheet?.show() ?? null;
      openMap.value = map;
      openingMap.value = null;
      staleFiles.value = new Set();
    });
    for (const notice of notices) say(notice);
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

/** Opens what is open anew, because its file was replaced or put right: walk and view stay as they are. */
export async function openMapAgain(): Promise<void> {
  const shown = shownMap.peek();
  if (!shown) return;
  const { fileName } = shown.entry ?? openMap.peek()!.opened;
  try {
    await refreshMapCase();
    // A map made anew may go by another id under the same name.
    const now = mapEntries.peek();
    const entry = now.find(({ id }) => id === shown.id) ?? now.find((one) => one.fileName === fileName);
    await openMapById(entry?.id ?? shown.id);
  } catch (thrown) {
    sayFault(thrown, AGAIN);
  }
}

const AGAIN: NoticeAct = { label: faultWords.openAgain, run: openMapAgain };
const noteStale = (fileName: string | null): void => {
  if (fileName !== null) staleFiles.value = new Set([...staleFiles.peek(), fileName]);
};
const TROUBLE: ArchiveTrouble = {
  gone(fileName) {
    noteStale(fileName);
    say(faultWords.mapGone(fileName), AGAIN);
  },
  failed(fault) {
    const changed = fault.code === "changed-on-disk";
    if (changed) noteStale(fault.where);
    sayFault(fault, changed ? AGAIN : null);
  },
};

/** Lets another map, or none, be the ground under a sheet from now on. */
export async function chooseGround(sheet: MapEntry, ground: string | null): Promise<void> {
  changeSettings({ sheetGrounds: { ...settings.value.sheetGrounds, [sheet.id]: ground } });
  if (shownSheet.value?.entry.id === sheet.id) await openMapById(sheet.id);
}
