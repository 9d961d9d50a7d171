/**
 * Electron's fuses as a packaged Legwright wants them: every one named, so that one that Electron adds stops the packaging
 * until somebody has decided on it. Source of what each does: Electron's documentation, "Electron Fuses".
 */
import { FuseV1Options, type FuseV1Config, FuseVersion } from "@electron/fuses";

export const FUSES = {
  version: FuseVersion.V1,
  strictlyRequireAllFuses: true,
  // Signed anew after flipping where the system asks for it.
  resetAdHocDarwinSignature: true,
  // The program is no Node for others: not by a variable, not by flags, not by a debugger. Our threads are worker threads.
  [FuseV1Options.RunAsNode]: false,
  [FuseV1Options.EnableNodeOptionsEnvironmentVariable]: false,
  [FuseV1Options.EnableNodeCliInspectArguments]: false,
  // There are no cookies in the shell; were there ever, they would not lie on disk in the open.
  [FuseV1Options.EnableCookieEncryption]: true,
  // Only the program as it was packaged is started.
  [FuseV1Options.EnableEmbeddedAsarIntegrityValidation]: true,
  [FuseV1Options.OnlyLoadAppFromAsar]: true,
  // The main process starts from the same snapshot as windows: we have none of our own.
  [FuseV1Options.LoadBrowserProcessSpecificV8Snapshot]: false,
  // Nothing of ours is loaded from file: addresses.
  [FuseV1Options.GrantFileProtocolExtraPrivileges]: false,
  // Fast checks of WebAssembly's memory, as in Electron by itself: WebP and SQLite are WebAssembly.
  [FuseV1Options.WasmTrapHandlers]: true,
} as const satisfies FuseV1Config;
