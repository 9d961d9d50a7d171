import ElectronStore from "electron-store";
import {
  openSettings,
  SETTINGS_NAME,
  type SettingsFile,
  type Store,
  type StoredSettings,
} from "../services/settings.ts";

/** The settings file from the shell: the same file, by the store made for Electron. */
export function openStoreSettings(folder: string): SettingsFile {
  return openSettings(folder, (options) => {
    const store = new ElectronStore<StoredSettings>({
      ...options,
      name: SETTINGS_NAME,
    });
    return store satisfies Store;
  });
}
