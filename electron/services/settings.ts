import { copyFileSync, existsSync, renameSync } from "node:fs";
import { basename, join } from "node:path";
import { Fault } from "../../core/fault.ts";
import type { RememberedRoles } from "../../core/map/set-roles.ts";
import { KEPT_VERSIONS, type Settings, SHEET_STRENGTHS, TEXT_SIZES, USUAL_SETTINGS } from "../contract.ts";
import { rememberedRolesIn, withRemembered } from "./archives/remembered-roles.ts";
import { fileFault } from "./file-faults.ts";
import { type CaseNotes, NO_NOTES, readCaseNotes } from "./map-case-notes.ts";
import { changePreferences, readPreferences } from "./preferences.ts";
import { recentPathsIn } from "./recent-walks.ts";

/** What the file holds: what the window sees, the maps added to the case, and the roles set for them. */
export interface StoredSettings extends Settings {
  readonly addedMaps: readonly string[];
  /** Paths of walks opened or saved lately, the newest first. */
  readonly recentWalks: readonly string[];
  readonly caseNotes: CaseNotes;
  readonly mapRoles: readonly RememberedRoles[];
}

export const DEFAULT_SETTINGS: StoredSettings = {
  ...USUAL_SETTINGS,
  addedMaps: [],
  recentWalks: [],
  caseNotes: NO_NOTES,
  mapRoles: [],
};

/**
 * Members of a newer version are kept, so the schema says nothing of what it does not know. Preferences are read
 * apart: a bad one does not spoil the file.
 */
const SCHEMA = {
  theme: { enum: ["system", "light", "dark", "night"] },
  lengthUnit: { enum: ["metric", "imperial"] },
  lastMapId: { type: ["string", "null"] },
  cautionSeen: { type: "boolean" },
  window: {
    type: "object",
    properties: {
      width: { type: "number", minimum: 200, maximum: 20000 },
      height: { type: "number", minimum: 200, maximum: 20000 },
      x: { type: ["number", "null"] },
      y: { type: ["number", "null"] },
      maximised: { type: "boolean" },
      fullScreen: { type: "boolean" },
    },
  },
  caseNotes: {},
  recentWalks: {},
  addedMaps: { type: "array", items: { type: "string" }, maxItems: 1000 },
  mapRoles: {},
  lengths: {},
  figureLocale: {},
  compass: {},
  notation: {},
  grids: {},
  gridName: {},
  paceTrials: {},
  driftTrials: {},
  aids: {},
  print: {},
  showCloud: { type: "boolean" },
  showWayOut: { type: "boolean" },
  textSize: { enum: [...TEXT_SIZES] },
  catching: { type: "boolean" },
  showGrid: { type: "boolean" },
  showMagneticNorth: { type: "boolean" },
  sheetGrounds: { type: "object", additionalProperties: { type: ["string", "null"] } },
  sheetStrength: { enum: [...SHEET_STRENGTHS] },
  sheetLines: { type: "boolean" },
  keptVersions: { enum: [...KEPT_VERSIONS] },
} as const;

export const SETTINGS_NAME = "settings";

export interface StoreOptions {
  readonly cwd: string;
  readonly schema: typeof SCHEMA;
  readonly defaults: StoredSettings;
  readonly clearInvalidConfig: false;
}

/** What conf and electron-store have in common. */
export interface Store {
  store: StoredSettings;
}

export interface SettingsFile {
  /** Where the file lies: the app's own folder, in which it keeps other things too. */
  readonly folder: string;
  get(): Settings;
  /** @throws Fault "read-only", "no-space" when it cannot be written */
  set(change: Partial<Settings>): Settings;
  addedMaps(): readonly string[];
  addMap(path: string): void;
  forgetMap(path: string): void;
  recentWalks(): readonly string[];
  setRecentWalks(paths: readonly string[]): void;
  caseNotes(): CaseNotes;
  setCaseNotes(change: Partial<CaseNotes>): void;
  /** Roles set by hand, of all archives. */
  mapRoles(): readonly RememberedRoles[];
  /** @param now null forgets those of this archive */
  setMapRoles(of: Pick<RememberedRoles, "id" | "fingerprint">, now: RememberedRoles | null): void;
  /** What the person should know about reading it. */
  readonly notices: readonly string[];
}

/**
 * Opens the settings file. One that cannot be read is renamed beside itself and said, never dropped: it may hold the
 * list of a person's maps. Where nothing can be written the settings live for this run only.
 * @param open makes the store: conf in Node, electron-store in the shell. Both write the same file
 */
export function openSettings(folder: string, open: (options: StoreOptions) => Store): SettingsFile {
  const notices: string[] = [];
  const options = {
    cwd: folder,
    schema: SCHEMA,
    defaults: DEFAULT_SETTINGS,
    clearInvalidConfig: false,
  } as const;
  const tryOpen = (): Store | null => {
    try {
      return open(options);
    } catch {
      return null;
    }
  };
  let store = tryOpen();
  if (!store) {
    const aside = putAside(join(folder, `${SETTINGS_NAME}.json`), "unreadable", renameSync);
    if (aside) {
      notices.push(
        `The settings could not be read. They were put aside as ${aside}, and the usual ones are used.`,
      );
      store = tryOpen();
    }
  }
  if (!store) {
    notices.push("The settings cannot be kept on this computer: changes last until the window is closed.");
    store = { store: DEFAULT_SETTINGS };
  }
  mend(store, join(folder, `${SETTINGS_NAME}.json`), notices);
  return new StoreSettings(folder, store, notices);
}

/** Preferences that cannot be are put right at once and said, and the file as it was is kept. */
function mend(store: Store, path: string, notices: string[]): void {
  const { preferences, mended } = readPreferences({ ...store.store });
  if (mended.length === 0) return;
  const aside = putAside(path, "before-mending", copyFileSync);
  notices.push(
    `Settings that could not be read were left out: ${mended.join(", ")}.${aside ? ` The file as it was is kept as ${aside}.` : ""}`,
  );
  try {
    store.store = { ...store.store, ...preferences };
  } catch {
    // Nothing can be written: what is read is put right each time all the same.
  }
}

/** @returns the new name, or null when there was no file or no other could be made of it */
function putAside(path: string, why: string, move: (from: string, to: string) => void): string | null {
  if (!existsSync(path)) return null;
  const stamp = new Date().toISOString().slice(0, 19).replaceAll(/[T:]/g, "-");
  const aside = path.replace(/\.json$/, `.${why}-${stamp}.json`);
  try {
    move(path, aside);
    return basename(aside);
  } catch {
    return null;
  }
}

class StoreSettings implements SettingsFile {
  #last: StoredSettings = DEFAULT_SETTINGS;

  constructor(
    readonly folder: string,
    private readonly file: Store,
    readonly notices: readonly string[],
  ) {}

  #read(): StoredSettings {
    try {
      const stored = this.file.store;
      const { window, ...rest } = { ...DEFAULT_SETTINGS, ...stored };
      const { preferences } = readPreferences({ ...stored });
      this.#last = { ...rest, ...preferences, window: { ...DEFAULT_SETTINGS.window, ...window } };
    } catch {
      // Another program is spoiling the file while we run: what was read last is still true for this window.
    }
    return this.#last;
  }

  #write(change: Partial<StoredSettings>): void {
    const before = this.#read();
    try {
      this.file.store = { ...this.file.store, ...before, ...change };
    } catch (error) {
      if (error instanceof Error && error.message.startsWith("Config schema violation")) {
        throw new Fault("bad-argument", "These settings make no sense.", error.message);
      }
      throw fileFault(error, SETTINGS_NAME, "could not be saved");
    }
  }

  get(): Settings {
    const stored = this.#read();
    // Member by member: what a newer version wrote, and where the maps lie, are not the window's.
    return Object.fromEntries(
      Object.keys(USUAL_SETTINGS).map((key) => [key, stored[key as keyof Settings]]),
    ) as unknown as Settings;
  }

  set(change: Partial<Settings>): Settings {
    this.#write(changePreferences<Settings>(this.get(), change));
    return this.get();
  }

  addedMaps(): readonly string[] {
    return this.#read().addedMaps;
  }

  addMap(path: string): void {
    const maps = this.addedMaps();
    if (!maps.includes(path)) this.#write({ addedMaps: [...maps, path] });
  }

  forgetMap(path: string): void {
    this.#write({ addedMaps: this.addedMaps().filter((one) => one !== path) });
  }

  recentWalks(): readonly string[] {
    return recentPathsIn(this.#read().recentWalks);
  }

  setRecentWalks(paths: readonly string[]): void {
    this.#write({ recentWalks: paths });
  }

  caseNotes(): CaseNotes {
    return readCaseNotes(this.#read().caseNotes);
  }

  setCaseNotes(change: Partial<CaseNotes>): void {
    this.#write({ caseNotes: { ...this.caseNotes(), ...change } });
  }

  mapRoles(): readonly RememberedRoles[] {
    return rememberedRolesIn(this.#read().mapRoles);
  }

  setMapRoles(of: Pick<RememberedRoles, "id" | "fingerprint">, now: RememberedRoles | null): void {
    this.#write({ mapRoles: withRemembered(this.mapRoles(), of, now) });
  }
}
