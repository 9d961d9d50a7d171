import Conf from "conf";
import {
  openSettings,
  SETTINGS_NAME,
  type SettingsFile,
  type Store,
  type StoredSettings,
} from "./settings.ts";

/** The settings file from plain Node (browser host, command line). */
export function openConfSettings(folder: string): SettingsFile {
  return openSettings(folder, ({ schema, ...options }) => {
    // conf's own schema type wants mutable arrays; nothing writes to it.
    const conf = new Conf<StoredSettings>({ ...options, schema: schema as never, configName: SETTINGS_NAME });
    return conf satisfies Store;
  });
}
