import { BrowserWindow, dialog, screen } from "electron";
import type { HostCommand } from "../contract.ts";
import type { SettingsFile } from "../services/settings.ts";
import { APP_ORIGIN } from "./app-protocol.ts";
import { COMMAND_CHANNEL } from "./channels.ts";
import { placeOnScreens } from "./window-place.ts";

/**
 * Opens the window where and as it was last time; it shows itself when there is something to see.
 * @param isQuitting whether the whole program is about to end, asked when the window is closed
 */
export function openWindow(
  preload: string,
  settings: SettingsFile,
  isQuitting: () => boolean,
): BrowserWindow {
  const place = settings.get().window;
  const screens = screen.getAllDisplays().map(({ workArea }) => workArea);
  const window = new BrowserWindow({
    ...placeOnScreens(place, screens),
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
    if (place.maximised) window.maximize();
    if (place.fullScreen) window.setFullScreen(true);
    window.show();
  });
  window.on("close", () => rememberPlace(window, settings));
  // The page holds on to what is not saved: then it asks, in its own words, and goes by itself once it may.
  window.webContents.on("will-prevent-unload", () =>
    tellWindow(window, { ask: isQuitting() ? "quit" : "close" }),
  );
  offerToReload(window);
  void window.loadURL(`${APP_ORIGIN}/`);
  return window;
}

export const tellWindow = (window: BrowserWindow, command: HostCommand): void =>
  window.webContents.send(COMMAND_CHANNEL, command);

function rememberPlace(window: BrowserWindow, settings: SettingsFile): void {
  const { width, height, x, y } = window.getNormalBounds();
  try {
    settings.set({
      window: { width, height, x, y, maximised: window.isMaximized(), fullScreen: window.isFullScreen() },
    });
  } catch {
    // A place that cannot be kept is no reason to stay open.
  }
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
