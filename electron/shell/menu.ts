import { app, type BrowserWindow, Menu, type MenuItemConstructorOptions } from "electron";
import type { HostCommand } from "../contract.ts";
import { COMMAND_CHANNEL } from "./channels.ts";

/** The application menu: what it asks of the window goes there as a command; the rest are the system's own roles. */
export function setUpMenu(window: () => BrowserWindow | null): void {
  Menu.setApplicationMenu(
    Menu.buildFromTemplate(
      menuTemplate(process.platform, (command) => window()?.webContents.send(COMMAND_CHANNEL, command)),
    ),
  );
}

/** The menu of a platform, as data. */
export function menuTemplate(
  platform: string,
  send: (command: HostCommand) => void,
): MenuItemConstructorOptions[] {
  const isMac = platform === "darwin";
  const item = (label: string, command: HostCommand, accelerator?: string): MenuItemConstructorOptions => ({
    label,
    ...(accelerator ? { accelerator } : {}),
    click: () => send(command),
  });
  const separator: MenuItemConstructorOptions = { type: "separator" };
  const application: MenuItemConstructorOptions = {
    label: app.name,
    submenu: [
      { role: "about" },
      separator,
      { role: "hide" },
      { role: "hideOthers" },
      { role: "unhide" },
      separator,
      { role: "quit" },
    ],
  };
  const file: MenuItemConstructorOptions = {
    label: "File",
    submenu: [
      item("New walk", "new", "CmdOrCtrl+N"),
      item("Open walk …", "open", "CmdOrCtrl+O"),
      item("Bring in a file or text …", "import", "CmdOrCtrl+I"),
      separator,
      item("Save", "save", "CmdOrCtrl+S"),
      item("Save as …", "save-as", "CmdOrCtrl+Shift+S"),
      separator,
      item("Write for other programs …", "export", "CmdOrCtrl+E"),
      item("Export leg table as CSV …", "export-csv"),
      item("Print …", "print", "CmdOrCtrl+P"),
      separator,
      isMac ? { role: "close" } : { role: "quit" },
    ],
  };
  const edit: MenuItemConstructorOptions = {
    label: "Edit",
    // Undo and redo are the walk's, or the text field's in which the cursor stands: the window knows which.
    submenu: [
      item("Undo", "undo", "CmdOrCtrl+Z"),
      item("Redo", "redo", isMac ? "Cmd+Shift+Z" : "Ctrl+Y"),
      separator,
      { role: "cut" },
      { role: "copy" },
      { role: "paste" },
      { role: "selectAll" },
    ],
  };
  const view: MenuItemConstructorOptions = {
    label: "View",
    submenu: [{ role: "togglefullscreen" }, separator, { role: "toggleDevTools" }],
  };
  return [
    ...(isMac ? [application] : []),
    file,
    edit,
    view,
    ...(isMac ? [{ role: "windowMenu" } as const] : []),
  ];
}
