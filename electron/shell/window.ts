import { BrowserWindow, dialog } from "electron";
import type { Settings } from "../contract.ts";
import type { SettingsFile } from "../services/settings.ts";
import { APP_ORIGIN } from "./app-protocol.ts";

/** Opens the window as large as it was last time; it shows itself when there is something to see. */
export function openWindow(
  preload: string,
  settings: SettingsFile,
  isMakingMap: () => boolean,
): BrowserWindow {
  const { width, height, maximised } = settings.get().window;
  const window = new BrowserWindow({
    width,
    height,
    minWidth: 360,
    minHeight: 400,
    show: false,
    title: "Legwright",
    backgroundColor: "#f6f2e6",
    webPreferences: {
      preload,
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      webSecurity: true,
      spellcheck: false,
      navigateOnDragDrop: false,
    },
  });
  window.once("ready-to-show", () => {
    if (maximised) window.maximize();
    window.show();
  });
  window.on("close", () => rememberSize(window, settings));
  keepWork(window, isMakingMap);
  offerToReload(window);
  void window.loadURL(`${APP_ORIGIN}/`);
  return window;
}

function rememberSize(window: BrowserWindow, settings: SettingsFile): void {
  const { width, height } = window.getNormalBounds();
  const size: Settings["window"] = { width, height, maximised: window.isMaximized() };
  try {
    settings.set({ window: size });
  } catch {
    // A size that cannot be kept is no reason to stay open.
  }
}

/** The page refuses to unload while a walk is unsaved or a map is being made; Electron shows no question of its own then. */
function keepWork(window: BrowserWindow, isMakingMap: () => boolean): void {
  window.webContents.on("will-prevent-unload", (event) => {
    const answer = dialog.showMessageBoxSync(window, {
      type: "warning",
      message: isMakingMap()
        ? "A map is being made. Leaving now stops it and leaves nothing of it."
        : "This walk has changes that are not saved.",
      buttons: ["Keep the window open", isMakingMap() ? "Stop and leave" : "Leave without saving"],
      defaultId: 0,
      cancelId: 0,
    });
    if (answer === 1) event.preventDefault();
  });
}

function offerToReload(window: BrowserWindow): void {
  window.webContents.on("render-process-gone", (_event, details) => {
    if (details.reason === "clean-exit") return;
    const answer = dialog.showMessageBoxSync(window, {
      type: "error",
      message: "The window stopped working. Walks on disk are untouched.",
      detail: `Reason given by the system: ${details.reason}.`,
      buttons: ["Open it again", "Quit"],
      defaultId: 0,
    });
    if (answer === 0) window.webContents.reload();
    else window.destroy();
  });
}
