import { existsSync, renameSync } from "node:fs";
import { basename, join } from "node:path";
import { Fault } from "../../core/fault.ts";
import type { Settings } from "../contract.ts";
import { fileFault } from "./file-faults.ts";

/** What the file holds: what the window sees, and the maps added to the case. */
export interface StoredSettings extends Settings {
  readonly addedMaps: readonly string[];
}

export const DEFAULT_SETTINGS: StoredSettings = {
  theme: "system",
  lengthUnit: "metric",
  lastMapId: null,
  cautionSeen: false,
  window: { width: 1280, height: 820, maximised: false },
  addedMaps: [],
};

/** Members of a newer version are kept, so the schema says nothing of what it does not know. */
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
      maximised: { type: "boolean" },
    },
  },
  addedMaps: { type: "array", items: { type: "string" }, maxItems: 1000 },
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
  get(): Settings;
  /** @throws Fault "read-only", "no-space" when it cannot be written */
  set(change: Partial<Settings>): Settings;
  addedMaps(): readonly string[];
  addMap(path: string): void;
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
    const aside = putAside(join(folder, `${SETTINGS_NAME}.json`));
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
  return new StoreSettings(store, notices);
}

/** @returns the new name, or null when there was no file or it could not be renamed */
function putAside(path: string): string | null {
  if (!existsSync(path)) return null;
  const stamp = new Date().toISOString().slice(0, 19).replaceAll(/[T:]/g, "-");
  const aside = path.replace(/\.json$/, `.unreadable-${stamp}.json`);
  try {
    renameSync(path, aside);
    return basename(aside);
  } catch {
    return null;
  }
}

class StoreSettings implements SettingsFile {
  #last: StoredSettings = DEFAULT_SETTINGS;

  constructor(
    private readonly file: Store,
    readonly notices: readonly string[],
  ) {}

  #read(): StoredSettings {
    try {
      const { window, ...rest } = { ...DEFAULT_SETTINGS, ...this.file.store };
      this.#last = { ...rest, window: { ...DEFAULT_SETTINGS.window, ...window } };
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
    const { theme, lengthUnit, lastMapId, cautionSeen, window } = this.#read();
    return { theme, lengthUnit, lastMapId, cautionSeen, window };
  }

  set(change: Partial<Settings>): Settings {
    this.#write(change);
    return this.get();
  }

  addedMaps(): readonly string[] {
    return this.#read().addedMaps;
  }

  addMap(path: string): void {
    const maps = this.addedMaps();
    if (!maps.includes(path)) this.#write({ addedMaps: [...maps, path] });
  }
}
