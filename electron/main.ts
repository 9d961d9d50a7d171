/** The shell: wires the services to a window. Each concern is set up in a file of its own. */
import { app, BrowserWindow } from "electron";
import { join } from "node:path";
import { readInfo } from "../core/map/read-info.ts";
import { findApp } from "./services/app-folder.ts";
import { settingsFolder, walksFolder } from "./services/folders.ts";
import { GivenFiles } from "./services/given-files.ts";
import { GROUND_DECODERS } from "./services/ground-decoders.ts";
import { createServices } from "./services/services.ts";
import { registerScheme, serveApp } from "./shell/app-protocol.ts";
import { answerCalls } from "./shell/calls.ts";
import { desktopOf } from "./shell/desktop.ts";
import { nativeDialogs } from "./shell/dialogs.ts";
import { beTheOnlyOne, listenForFiles } from "./shell/files-from-outside.ts";
import { denyNavigation, denyNetwork, denyPermissions } from "./shell/lock-down.ts";
import { showBareMenu } from "./shell/menu.ts";
import { openStoreSettings } from "./shell/store-settings.ts";
import { windowPrinter } from "./shell/window-printer.ts";
import { openWindow, tellWindow } from "./shell/window.ts";

let window: BrowserWindow | null = null;
const theWindow = (): BrowserWindow | null => window;
let quitting = false;
/** Null until the program may open windows. */
let open: (() => void) | null = null;
const given = new GivenFiles();

/** Brings the window to the person, opening one where there is none. */
function comeForward(): void {
  if (!window) return open?.();
  if (window.isMinimized()) window.restore();
  window.focus();
}

function start(): void {
  const self = findApp();
  const folder = walksFolder();
  const settings = openStoreSettings(app.getPath("userData"));
  const services = createServices({
    app: self,
    host: { host: "electron", dialogs: "native", folderName: "" },
    walksFolder: folder,
    settings,
    chooser: nativeDialogs(folder, theWindow),
    printer: windowPrinter(),
    desktop: desktopOf(theWindow, comeForward),
    given,
    readInfo: (source) => readInfo(source, GROUND_DECODERS),
  });
  denyPermissions();
  denyNetwork();
  serveApp(join(self.folder, "dist/renderer"), services.openedMaps);
  answerCalls(services.api, theWindow, (path) => services.picked.take(path));
  showBareMenu();
  // Asked once a closing: a window that stays has ended the quitting.
  const isQuitting = (): boolean => {
    const was = quitting;
    quitting = false;
    return was;
  };
  open = () => {
    window = openWindow(join(self.folder, "dist/electron/preload.cjs"), settings, isQuitting);
    window.on("closed", () => (window = null));
  };
  open();
  app.on("activate", comeForward);
  app.on("before-quit", () => (quitting = true));
  let closed = false;
  app.on("will-quit", (event) => {
    if (closed) return;
    // What is being made leaves nothing behind: that is waited for.
    event.preventDefault();
    void services.close().finally(() => {
      closed = true;
      app.quit();
    });
  });
}

app.setName("Legwright");
app.setPath("userData", settingsFolder());
const takeFiles = (paths: readonly string[]): void => {
  given.give(paths);
  comeForward();
  if (window && paths.length > 0) tellWindow(window, { ask: "open-files" });
};
if (beTheOnlyOne(takeFiles)) {
  app.enableSandbox();
  registerScheme();
  denyNavigation();
  listenForFiles(takeFiles);
  app.on("window-all-closed", () => {
    if (process.platform !== "darwin") app.quit();
  });
  // Not awaited at the top: Electron becomes ready only once this module has run to its end.
  void app.whenReady().then(start);
} else {
  app.quit();
}
