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
  return openSettings(folder, (options) => {
    const conf = new Conf<StoredSettings>({ ...options, configName: SETTINGS_NAME });
    return conf satisfies Store;
  });
}
