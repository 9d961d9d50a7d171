import { createHash } from "node:crypto";
import { promises as fs, type Stats } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { Fault } from "../../core/fault.ts";
import type { ByteSource } from "../../core/map/source.ts";
import type { MapInfo } from "../../core/map/metadata.ts";
import type { MapEntry, MapView } from "../contract.ts";
import { fileFault } from "./file-faults.ts";
import { openFileSource } from "./file-source.ts";
import { type CaseNotes, NO_NOTES, withEntry } from "./map-case-notes.ts";

/** A map of the case, and where it lies. */
export interface FoundMap {
  readonly entry: MapEntry;
  readonly path: string;
  readonly terrainPath: string | null;
}

export interface MapCaseDeps {
  /** Folders whose archives are always in the case. One that does not exist holds none. */
  readonly folders: readonly string[];
  /** Archives the person added, wherever they lie. */
  readonly added: () => readonly string[];
  readonly remember: (path: string) => void;
  /** Takes one of `added` out again. */
  readonly forget?: (path: string) => void;
  /** What the person did with maps; left out, nothing is remembered. */
  readonly notes?: { readonly get: () => CaseNotes; readonly change: (change: Partial<CaseNotes>) => void };
  /** What an archive says of itself. @throws Fault */
  readonly readInfo: (source: ByteSource) => Promise<MapInfo>;
}

const ARCHIVE = /\.pmtiles$/i;
const TERRAIN = /\.terrain\.pmtiles$/i;

/** The maps on this computer. Reading what an archive says is remembered until the archive changes. */
export class MapCase {
  readonly #known = new Map<string, { readonly tag: string; readonly found: FoundMap }>();

  constructor(private readonly deps: MapCaseDeps) {}

  #notes(): CaseNotes {
    return this.deps.notes?.get() ?? NO_NOTES;
  }

  /** All maps, those that cannot be opened too, each with its fault. Same-named ids get a suffix, so that every id is one map. */
  async list(): Promise<readonly FoundMap[]> {
    const notes = this.#notes();
    const hidden = new Set(notes.hidden);
    const paths = new Set<string>();
    for (const folder of this.deps.folders)
      for (const path of await archivesIn(folder)) if (!hidden.has(path)) paths.add(path);
    for (const path of this.deps.added()) paths.add(resolve(path));
    const maps: FoundMap[] = [];
    const ids = new Set<string>();
    for (const path of paths) {
      const found = asNoted(await this.#look(path), notes);
      let { id } = found.entry;
      for (let n = 2; ids.has(id); n++) id = `${found.entry.id}~${n}`;
      ids.add(id);
      maps.push(id === found.entry.id ? found : { ...found, entry: { ...found.entry, id } });
    }
    this.#keepSeen(maps, notes);
    return maps;
  }

  /** What maps are called is kept for the day when a file is gone. Where it cannot be, nothing else is lost. */
  #keepSeen(maps: readonly FoundMap[], notes: CaseNotes): void {
    const added = new Set(this.deps.added().map((path) => resolve(path)));
    let { seen } = notes;
    for (const { path, entry } of maps) {
      const title = entry.ownTitle ?? entry.title;
      if (added.has(path) && !entry.fault && seen[path] !== title) seen = withEntry(seen, path, title);
    }
    if (seen === notes.seen) return;
    try {
      this.deps.notes?.change({ seen });
    } catch {
      // The list is good all the same.
    }
  }

  /** @throws Fault "no-file" when no map has this id, or the map's own fault */
  async find(id: string): Promise<FoundMap> {
    const found = await this.inCase(id);
    if (found.entry.fault) throw Fault.fromRecord(found.entry.fault);
    return found;
  }

  /** Also one that cannot be opened. @throws Fault "no-file" when no map has this id */
  async inCase(id: string): Promise<FoundMap> {
    const found = (await this.list()).find((map) => map.entry.id === id);
    if (!found)
      throw new Fault(
        "no-file",
        "This map is not in the map case.",
        null,
        "Add its archive to the map case.",
      );
    return found;
  }

  /** Its file stays where it is; adding it again brings the map back. @throws Fault as `inCase` */
  async remove(id: string): Promise<void> {
    const { path } = await this.inCase(id);
    const { hidden, titles, seen, views } = this.#notes();
    this.deps.forget?.(path);
    const always = this.deps.folders.some((folder) => resolve(folder) === dirname(path));
    this.deps.notes?.change({
      titles: withEntry(titles, path, null),
      seen: withEntry(seen, path, null),
      views: withEntry(views, path, null),
      ...(always && { hidden: [...hidden.filter((one) => one !== path), path] }),
    });
  }

  /** @param title null: as the file calls itself @throws Fault as `inCase` */
  async rename(id: string, title: string | null): Promise<void> {
    const { path, entry } = await this.inCase(id);
    const own = entry.ownTitle ?? entry.title;
    this.deps.notes?.change({
      titles: withEntry(this.#notes().titles, path, title === own ? null : title),
    });
  }

  /** @throws Fault as `inCase` */
  async keepView(id: string, view: MapView): Promise<void> {
    const { path } = await this.inCase(id);
    this.deps.notes?.change({ views: withEntry(this.#notes().views, path, view) });
  }

  /** A map whose file lies elsewhere now: title and view go with it. @throws Fault as `add` and `inCase` */
  async relocate(id: string, to: string): Promise<MapEntry> {
    const { path } = await this.inCase(id);
    const { titles, views } = this.#notes();
    const [title, view] = [titles[path] ?? null, views[path] ?? null];
    await this.add(to);
    if (resolve(to) !== path) {
      await this.remove(id);
      const now = this.#notes();
      this.deps.notes?.change({
        titles: withEntry(now.titles, resolve(to), title),
        views: withEntry(now.views, resolve(to), view),
      });
    }
    return await this.#entryAt(resolve(to));
  }

  async #entryAt(path: string): Promise<MapEntry> {
    return ((await this.list()).find((map) => map.path === path) ?? (await this.#look(path))).entry;
  }

  /** @throws Fault when the archive cannot be read: then it is not added */
  async add(path: string): Promise<MapEntry> {
    const full = resolve(path);
    if (TERRAIN.test(full)) {
      throw new Fault(
        "bad-archive",
        "This is the terrain beside a map, not the map.",
        basename(full),
        "Choose the archive of the same name without “.terrain”.",
      );
    }
    const { entry } = await this.#look(full);
    if (entry.fault) throw Fault.fromRecord(entry.fault);
    const { hidden } = this.#notes();
    if (hidden.includes(full)) this.deps.notes?.change({ hidden: hidden.filter((one) => one !== full) });
    this.deps.remember(full);
    return await this.#entryAt(full);
  }

  async #look(path: string): Promise<FoundMap> {
    const terrain = path.replace(ARCHIVE, ".terrain.pmtiles");
    const [stat, terrainStat] = await Promise.all([
      fs.stat(path).catch(() => null),
      fs.stat(terrain).catch(() => null),
    ]);
    const tag = `${stat?.size}/${stat?.mtimeMs}/${terrainStat?.size}`;
    const known = this.#known.get(path);
    if (known?.tag === tag) return known.found;
    const found = await this.#read(path, stat, tag, terrainStat ? terrain : null);
    this.#known.set(path, { tag, found });
    return found;
  }

  async #read(path: string, stat: Stats | null, tag: string, terrainPath: string | null): Promise<FoundMap> {
    const file = {
      fileName: basename(path),
      sizeBytes: stat?.size ?? 0,
      hasTerrain: terrainPath !== null,
      fileDay: stat && stat.mtime.toISOString().slice(0, 10),
      tag,
      ownTitle: null,
      view: null,
    };
    try {
      const source = await openFileSource(path);
      try {
        const info = await this.deps.readInfo(source);
        const { id, title, invented, pictures = null, bounds, interval, date } = info;
        const said = { bounds, interval, source: info.source, date };
        return { path, terrainPath, entry: { id, title, ...file, invented, pictures, ...said, fault: null } };
      } finally {
        await source.close();
      }
    } catch (error) {
      const fault = fileFault(error, path, "could not be read").toRecord();
      const id = `unread-${createHash("sha256").update(path).digest("hex").slice(0, 16)}`;
      return {
        path,
        terrainPath,
        entry: {
          ...file,
          id,
          title: file.fileName,
          invented: false,
          pictures: null,
          fault,
          bounds: null,
          interval: null,
          source: null,
          date: null,
        },
      };
    }
  }
}

/** A map as the person calls it, and as it was last looked at. */
function asNoted(found: FoundMap, { titles, seen, views }: CaseNotes): FoundMap {
  const { entry, path } = found;
  const own = entry.fault ? (seen[path] ?? entry.title) : entry.title;
  const title = titles[path] ?? own;
  const view = views[path] ?? null;
  if (title === entry.title && view === null) return found;
  return { ...found, entry: { ...entry, title, ownTitle: title === own ? null : own, view } };
}

async function archivesIn(folder: string): Promise<string[]> {
  const names = await fs.readdir(folder).catch(() => []);
  return names
    .filter((name) => ARCHIVE.test(name) && !TERRAIN.test(name))
    .sort()
    .map((name) => join(folder, name));
}
