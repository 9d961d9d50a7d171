import { dirname, join, resolve } from "node:path";
import { packKml } from "../../core/exchange/write-kml.ts";
import type { ByteSource } from "../../core/map/source.ts";
import type { MapInfo } from "../../core/map/metadata.ts";
import type { FileHandle, HostApi, HostInfo, MapChoice, NativeMenu, SaveChoice } from "../contract.ts";
import type { App } from "./app-folder.ts";
import { saveAtomically } from "./atomic-save.ts";
import { readDemoWalk } from "./demo-walk.ts";
import { type FileChooser, type FileKind, withEnding } from "./file-chooser.ts";
import { suggestName } from "./file-name.ts";
import { GivenFiles } from "./given-files.ts";
import { importArchive } from "./archives/import-archive.ts";
import { keepingCalls } from "./keeping/keeping-calls.ts";
import { Versions } from "./keeping/versions.ts";
import { MapCase } from "./map-case.ts";
import { MapJobs } from "./map-jobs.ts";
import { OpenedMaps } from "./opened-maps.ts";
import { PickedFiles } from "./picked-files.ts";
import { type RecentDocuments, RecentWalks } from "./recent-walks.ts";
import type { SettingsFile } from "./settings.ts";
import type { PagePrinter } from "./sheets/page-printer.ts";
import { sheetCalls } from "./sheets/sheet-calls.ts";
import { WalkFiles } from "./walk-files.ts";

/** What only a desktop program can ask of the system. */
export interface Desktop {
  /** Shows a file in the system's own window. */
  reveal(path: string): void;
  showMenu(menu: NativeMenu): void;
  fillScreen(): void;
  quit(): void;
  /** The system's own list of documents used lately. */
  readonly recent: RecentDocuments;
}

export interface ServicesDeps {
  readonly app: App;
  readonly host: Pick<HostInfo, "host" | "dialogs" | "folderName">;
  /** The person's folder of walks and maps. */
  readonly walksFolder: string;
  /** The folder with the maps and the walk that ship with the app. */
  readonly sampleFolder?: string;
  readonly settings: SettingsFile;
  readonly chooser: FileChooser;
  /** Null where the host has no printer dialog of its own. */
  readonly printer: PagePrinter | null;
  /** What the desktop does for the program; left out where the host has none. */
  readonly desktop?: Desktop;
  /** Files the program is asked from outside to open. */
  readonly given?: GivenFiles;
  readonly readInfo: (source: ByteSource) => Promise<MapInfo>;
}

export interface Services {
  readonly api: HostApi;
  readonly openedMaps: OpenedMaps;
  readonly picked: PickedFiles;
  readonly walksFolder: string;
  close(): Promise<void>;
}

/** What every host does for its window; the hosts differ in how calls come in, how files are chosen and what prints. */
export function createServices(deps: ServicesDeps): Services {
  const { settings, chooser } = deps;
  const sampleFolder = deps.sampleFolder ?? join(deps.app.folder, "sample-maps");
  const maps = new MapCase({
    folders: [sampleFolder, deps.walksFolder],
    added: () => settings.addedMaps(),
    remember: (path) => settings.addMap(path),
    forget: (path) => settings.forgetMap(path),
    notes: { get: () => settings.caseNotes(), change: (change) => settings.setCaseNotes(change) },
    readInfo: deps.readInfo,
  });
  const picked = new PickedFiles();
  const jobs = new MapJobs({
    folder: deps.walksFolder,
    pathOf: (fileId) => picked.pathOf(fileId),
    add: (path) => maps.add(path),
  });
  /** Where the archive lies that was chosen, converted when it has to be; null when none was. */
  const chosenArchive = async (choice: MapChoice | undefined): Promise<string | null> => {
    const path =
      choice && "file" in choice ? picked.pathOf(choice.file) : await chooser.toOpen("map", choice);
    return path === null ? null : await importArchive(path, deps.walksFolder);
  };
  const keepFolder = join(settings.folder, "kept");
  const versions = new Versions(join(keepFolder, "versions"), () => settings.get().keptVersions);
  const walks = new WalkFiles(versions);
  const recents = new RecentWalks(settings, picked, deps.desktop?.recent);
  const given = deps.given ?? new GivenFiles();
  const keeping = keepingCalls(keepFolder, walks, versions);
  const openedMaps = new OpenedMaps();
  const sheets = sheetCalls({
    settings: () => settings.get(),
    findMap: (id) => maps.find(id),
    mapRoles: () => settings.mapRoles(),
    chooser,
    printer: deps.printer,
  });

  /** Asks where to, then saves; null when the person chose nothing. Makes the bytes only after they chose. */
  async function saveProduct(
    kind: FileKind,
    suggestedName: string,
    choice: SaveChoice | undefined,
    make: () => Promise<string | Uint8Array>,
  ): Promise<FileHandle | null> {
    const place = await chooser.toSave(kind, withEnding(suggestName(suggestedName), kind), choice);
    if (!place) return null;
    await saveAtomically(place.path, await make(), { replace: place.replace });
    return { id: "", name: place.path.split(/[/\\]/).at(-1) ?? "" };
  }

  const api: HostApi = {
    info: async () => ({
      ...deps.host,
      version: deps.app.version,
      platform: process.platform,
      notices: settings.notices,
    }),

    listMaps: async () => (await maps.list()).map(({ entry }) => entry),
    addMap: async (choice) => {
      const path = await chosenArchive(choice);
      return path === null ? null : await maps.add(path);
    },
    relocateMap: async (id, choice) => {
      const path = await chosenArchive(choice);
      return path === null ? null : await maps.relocate(id, path);
    },
    removeMap: (id) => maps.remove(id),
    renameMap: (id, title) => maps.rename(id, title),
    revealMap: async (id) => {
      const { path, entry } = await maps.inCase(id);
      deps.desktop?.reveal(path);
      const inFolder = dirname(path) === resolve(deps.walksFolder) && deps.host.folderName !== "";
      return {
        shown: deps.desktop !== undefined,
        place: inFolder ? `${deps.host.folderName}/${entry.fileName}` : path,
      };
    },
    keepMapView: (id, view) => maps.keepView(id, view),

    listDataFiles: (kind) => chooser.dataNames(kind),
    pickDataFiles: async (kind, names) =>
      (await chooser.toOpenMany(kind, names)).map((path) => picked.take(path)),
    lookAtData: (fileId, as, crs) => jobs.look(fileId, as, crs),
    surveyElevation: (order) => jobs.survey(order),
    startMapMaking: (order) => jobs.start(order),
    mapMakingState: async (key) => jobs.state(key),
    cancelMapMaking: (key) => jobs.cancel(key),
    openMap: async (id) => await openedMaps.open(await maps.find(id)),
    recallRoles: async (mapId) => settings.mapRoles().filter(({ id }) => id === mapId),
    rememberRoles: async (roles) => settings.setMapRoles(roles, roles),
    forgetRoles: async (id, fingerprint) => settings.setMapRoles({ id, fingerprint }, null),

    listWalkFiles: () => chooser.walkNames(),
    openWalk: async (choice) => {
      if (choice && "upload" in choice) return walks.openUploaded(choice.upload.name, choice.upload.text);
      const path =
        choice && "file" in choice ? picked.pathOf(choice.file) : await chooser.toOpen("walk", choice);
      if (path === null) return null;
      const opened = await walks.open(path);
      recents.note(path);
      return opened;
    },
    recentWalks: () => recents.list(),
    forgetRecent: async (handle) => recents.forget(handle),
    filesToOpen: async () => given.take().map((path) => picked.take(path)),
    openDemoWalk: () => readDemoWalk(sampleFolder),
    saveWalk: (file, text, options) => walks.save(file, text, options?.evenIfChanged === true),
    saveWalkAs: async (text, suggestedName, choice) => {
      const place = await chooser.toSave("walk", withEnding(suggestName(suggestedName), "walk"), choice);
      if (place === null) return null;
      const saved = await walks.saveAs(place.path, text, place.replace);
      recents.note(place.path);
      return saved;
    },

    ...keeping.calls,

    exportText: (kind, text, suggestedName, choice) =>
      saveProduct(kind, suggestedName, choice, async () => (kind === "kmz" ? packKml(text) : text)),
    ...sheets.calls,

    showMenu: async (menu) => deps.desktop?.showMenu(menu),
    fillScreen: async () => {
      deps.desktop?.fillScreen();
      return deps.desktop !== undefined;
    },
    quit: async () => deps.desktop?.quit(),

    getSettings: async () => settings.get(),
    setSettings: async (change) => settings.set(change),
  };
  return {
    api,
    openedMaps,
    picked,
    walksFolder: deps.walksFolder,
    async close() {
      await keeping.close();
      await jobs.close();
      await sheets.close();
      await openedMaps.close();
    },
  };
}
