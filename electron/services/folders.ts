import { homedir } from "node:os";
import { existsSync } from "node:fs";
import { join, resolve } from "node:path";

type Env = Readonly<Record<string, string | undefined>>;

/** Where settings lie: what Electron calls userData for this app, so that all hosts share one file. LEGWRIGHT_SETTINGS overrides. */
export function settingsFolder(env: Env = process.env, platform: string = process.platform): string {
  if (env.LEGWRIGHT_SETTINGS) return resolve(env.LEGWRIGHT_SETTINGS);
  if (platform === "darwin") return join(homedir(), "Library", "Application Support", "legwright");
  if (platform === "win32") return join(env.APPDATA ?? join(homedir(), "AppData", "Roaming"), "legwright");
  return join(env.XDG_CONFIG_HOME || join(homedir(), ".config"), "legwright");
}

/** Where walks and maps of the person lie: Documents/Legwright, or ~/Legwright without Documents. LEGWRIGHT_WALKS overrides. */
export function walksFolder(env: Env = process.env): string {
  if (env.LEGWRIGHT_WALKS) return resolve(env.LEGWRIGHT_WALKS);
  const documents = join(homedir(), "Documents");
  return join(existsSync(documents) ? documents : homedir(), "Legwright");
}
