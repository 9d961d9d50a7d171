import { createHash } from "node:crypto";
import { promises as fs } from "node:fs";
import { basename, join, resolve } from "node:path";
import { Fault } from "../../core/fault.ts";
import type { ByteSource } from "../../core/map/source.ts";
import type { MapInfo } from "../../core/map/metadata.ts";
import type { MapEntry } from "../contract.ts";
import { fileFault } from "./file-faults.ts";
import { openFileSource } from "./file-source.ts";

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
  /** What an archive says of itself. @throws Fault */
  readonly readInfo: (source: ByteSource) => Promise<MapInfo>;
}

const ARCHIVE = /\.pmtiles$/i;
const TERRAIN = /\.terrain\.pmtiles$/i;

/** The maps on this computer. Reading what an archive says is remembered until the archive changes. */
export class MapCase {
  readonly #known = new Map<string, { readonly tag: string; readonly found: FoundMap }>();

  constructor(private readonly deps: MapCaseDeps) {}

  /** All maps, those that cannot be opened too, each with its fault. Same-named ids get a suffix, so that every id is one map. */
  async list(): Promise<readonly FoundMap[]> {
    const paths = new Set<string>();
    for (const folder of this.deps.folders) for (const path of await archivesIn(folder)) paths.add(path);
    for (const path of this.deps.added()) paths.add(resolve(path));
    const maps: FoundMap[] = [];
    const ids = new Set<string>();
    for (const path of paths) {
      const found = await this.#look(path);
      let { id } = found.entry;
      for (let n = 2; ids.has(id); n++) id = `${found.entry.id}~${n}`;
      ids.add(id);
      maps.push(id === found.entry.id ? found : { ...found, entry: { ...found.entry, id } });
    }
    return maps;
  }

  /** @throws Fault "no-file" when no map has this id, or the map's own fault */
  async find(id: string): Promise<FoundMap> {
    const found = (await this.list()).find((map) => map.entry.id === id);
    if (!found)
      throw new Fault(
        "no-file",
        "This map is not in the map case.",
        null,
        "Add its archive to the map case.",
      );
    if (found.entry.fault) throw Fault.fromRecord(found.entry.fault);
    return found;
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
    this.deps.remember(full);
    return (await this.list()).find((map) => map.path === full)?.entry ?? entry;
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
    const found = await this.#read(path, stat?.size ?? 0, terrainStat ? terrain : null);
    this.#known.set(path, { tag, found });
    return found;
  }

  async #read(path: string, sizeBytes: number, terrainPath: string | null): Promise<FoundMap> {
    const file = { fileName: basename(path), sizeBytes, hasTerrain: terrainPath !== null };
    try {
      const source = await openFileSource(path);
      try {
        const { id, title, invented, pictures = null } = await this.deps.readInfo(source);
        return { path, terrainPath, entry: { id, title, ...file, invented, pictures, fault: null } };
      } finally {
        await source.close();
      }
    } catch (error) {
      const fault = fileFault(error, path, "could not be read").toRecord();
      const id = `unread-${createHash("sha256").update(path).digest("hex").slice(0, 16)}`;
      return {
        path,
        terrainPath,
        entry: { id, title: file.fileName, ...file, invented: false, pictures: null, fault },
      };
    }
  }
}

async function archivesIn(folder: string): Promise<string[]> {
  const names = await fs.readdir(folder).catch(() => []);
  return names
    .filter((name) => ARCHIVE.test(name) && !TERRAIN.test(name))
    .sort()
    .map((name) => join(folder, name));
}
