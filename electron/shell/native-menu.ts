/** The menu of a platform, as data: the window's commands, and beside them what the system expects there. */
import type { MenuItemConstructorOptions } from "electron";
import type { NativeItem, NativeMenu, NativePart, SystemItem } from "../contract.ts";

export interface MenuMaking {
  /** As `process.platform` has it. */
  readonly platform: string;
  readonly appName: string;
  /** Tools for developers are offered. */
  readonly forDevelopers: boolean;
  readonly pick: (item: string) => void;
}

const LINE: MenuItemConstructorOptions = { type: "separator" };

export function menuTemplate(
  menu: NativeMenu,
  { platform, appName, forDevelopers, pick }: MenuMaking,
): MenuItemConstructorOptions[] {
  const mac = platform === "darwin";
  const { titles, menus, settings, about, help } = menu;
  const item = (one: NativeItem) => itemOptions(one, mac, pick);
  const parts = (list: readonly NativePart[]) => joined(list, item);
  const system = (...roles: SystemItem[]): MenuItemConstructorOptions[] =>
    roles.map((role) => ({ role, label: shown(menu.system[role]) }));
  const [steps, ...otherEdits] = menus.edit;
  const submenu = (label: string, ...groups: readonly MenuItemConstructorOptions[][]) => ({
    label: shown(label),
    submenu: groups
      .filter((group) => group.length > 0)
      .flatMap((group, i) => (i > 0 ? [LINE, ...group] : group)),
  });
  const program = submenu(
    appName,
    [item(about)],
    [item(settings)],
    system("hide", "hideOthers", "unhide"),
    system("quit"),
  );
  return [
    ...(mac ? [program] : []),
    submenu(titles.file, parts(menus.file), system(mac ? "close" : "quit")),
    submenu(
      titles.edit,
      parts(steps ? [steps] : []),
      system("cut", "copy", "paste", "selectAll"),
      parts(otherEdits),
      mac ? [] : [item(settings)],
    ),
    submenu(titles.view, parts(menus.view)),
    submenu(titles.tools, parts(menus.tools)),
    ...(mac
      ? [{ ...submenu(titles.window, system("minimize", "zoom"), system("front")), role: "window" as const }]
      : []),
    {
      ...submenu(
        titles.help,
        help.map(item),
        mac ? [] : [item(about)],
        forDevelopers ? [{ role: "toggleDevTools" }] : [],
      ),
      role: "help",
    },
  ];
}

function itemOptions(
  { id, label, key, enabled, on, oneOf }: NativeItem,
  mac: boolean,
  pick: (item: string) => void,
): MenuItemConstructorOptions {
  return {
    id,
    label: shown(label),
    enabled,
    ...(on === null ? {} : { type: oneOf ? "radio" : "checkbox", checked: on }),
    // Shown only: the window hears its keys itself, and knows whether they belong to a field just then.
    ...(key === null ? {} : { accelerator: accelerator(key, mac), registerAccelerator: false }),
    click: () => pick(id),
  };
}

/** Parts with a heading open beside it; a line stands between others. */
function joined(
  parts: readonly NativePart[],
  item: (one: NativeItem) => MenuItemConstructorOptions,
): MenuItemConstructorOptions[] {
  const filled = parts.filter(({ items }) => items.length > 0);
  return filled.flatMap(({ heading, items }, i) => {
    const before = filled[i - 1];
    const parted = before !== undefined && (before.heading === null || heading === null);
    const lines = items.map(item);
    return [
      ...(parted ? [LINE] : []),
      ...(heading === null ? lines : [{ label: shown(heading), submenu: lines }]),
    ];
  });
}

/** "shift+z" as Electron writes it. Filling the screen has a key of its own on a Mac, where F11 is the system's. */
function accelerator(key: string, mac: boolean): string {
  if (key === "f11") return mac ? "Ctrl+Cmd+F" : "F11";
  const plus = key.endsWith("+");
  const names = (plus ? key.slice(0, -1) : key).split("+").filter(Boolean);
  return [
    "CmdOrCtrl",
    ...[...names, ...(plus ? ["plus"] : [])].map((one) => one[0]!.toUpperCase() + one.slice(1)),
  ].join("+");
}

/** A lone & would underline what follows it. */
const shown = (label: string): string => label.replaceAll("&", "&&");
