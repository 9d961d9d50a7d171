/** The shell: wires the services to a window. Each concern is set up in a file of its own. */
import { app, BrowserWindow, shell } from "electron";
import { join } from "node:path";
import { readInfo } from "../core/map/read-info.ts";
import { findApp } from "./services/app-folder.ts";
import { settingsFolder, walksFolder } from "./services/folders.ts";
import { GROUND_DECODERS } from "./services/ground-decoders.ts";
import { createServices } from "./services/services.ts";
import { registerScheme, serveApp } from "./shell/app-protocol.ts";
import { answerCalls } from "./shell/calls.ts";
import { nativeDialogs } from "./shell/dialogs.ts";
import { denyNavigation, denyNetwork, denyPermissions } from "./shell/lock-down.ts";
import { setUpMenu } from "./shell/menu.ts";
import { openStoreSettings } from "./shell/store-settings.ts";
import { windowPrinter } from "./shell/window-printer.ts";
import { openWindow } from "./shell/window.ts";

let window: BrowserWindow | null = null;
const theWindow = (): BrowserWindow | null => window;

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
    reveal: (path) => shell.showItemInFolder(path),
    readInfo: (source) => readInfo(source, GROUND_DECODERS),
  });
  denyPermissions();
  denyNetwork();
  serveApp(join(self.folder, "dist/renderer"), services.openedMaps);
  answerCalls(services.api, theWindow, (path) => services.picked.take(path));
  setUpMenu(theWindow);
  const open = (): void => {
    window = openWindow(join(self.folder, "dist/electron/preload.cjs"), settings, () =>
      services.isMakingMap(),
    );
    window.on("closed", () => (window = null));
  };
  open();
  app.on("activate", () => {
    if (!window) open();
  });
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
if (app.requestSingleInstanceLock()) {
  app.enableSandbox();
  registerScheme();
  denyNavigation();
  app.on("second-instance", () => {
    if (window?.isMinimized()) window.restore();
    window?.focus();
  });
  app.on("window-all-closed", () => {
    if (process.platform !== "darwin") app.quit();
  });
  // Not awaited at the top: Electron becomes ready only once this module has run to its end.
  void app.whenReady().then(start);
} else {
  app.quit();
}
