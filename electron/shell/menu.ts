import { app, Menu } from "electron";
import type { NativeMenu } from "../contract.ts";
import { menuTemplate } from "./native-menu.ts";

/** Until the window has said what it can do there is nothing to choose; without this Electron shows a menu of its own. */
export function showBareMenu(): void {
  Menu.setApplicationMenu(
    process.platform === "darwin" ? Menu.buildFromTemplate([{ role: "appMenu" }]) : null,
  );
}

export function showMenu(menu: NativeMenu, pick: (item: string) => void): void {
  const making = { platform: process.platform, appName: app.name, forDevelopers: !app.isPackaged, pick };
  Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(menu, making)));
}
