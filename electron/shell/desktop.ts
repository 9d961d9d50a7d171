import { app, type BrowserWindow, shell } from "electron";
import type { Desktop } from "../services/services.ts";
import { showMenu } from "./menu.ts";
import { tellWindow } from "./window.ts";

/**
 * What the services ask of Electron beside files and printing.
 * @param comeForward opens a window where there is none: on a Mac the menu outlives it
 */
export const desktopOf = (window: () => BrowserWindow | null, comeForward: () => void): Desktop => ({
  reveal: (path) => shell.showItemInFolder(path),
  showMenu: (menu) =>
    showMenu(menu, (item) => {
      const open = window();
      if (open) tellWindow(open, { item });
      else comeForward();
    }),
  fillScreen() {
    const open = window();
    open?.setFullScreen(!open.isFullScreen());
  },
  quit: () => app.quit(),
  recent: {
    add: (path) => app.addRecentDocument(path),
    clear: () => app.clearRecentDocuments(),
  },
});
