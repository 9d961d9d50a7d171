/** The menu of each platform, made of the window's commands. */
import type { MenuItemConstructorOptions } from "electron";
import { describe, expect, it } from "vitest";
import { type NativeItem, type NativeMenu, SYSTEM_ITEMS } from "../../electron/contract.ts";
import { menuTemplate } from "../../electron/shell/native-menu.ts";

const line = (id: string, more: Partial<NativeItem> = {}): NativeItem => ({
  id,
  label: `Do ${id}`,
  key: null,
  enabled: true,
  on: null,
  oneOf: false,
  ...more,
});
const MENU: NativeMenu = {
  titles: { file: "File", edit: "Edit", view: "View", tools: "Tools", window: "Window", help: "Help" },
  menus: {
    file: [
      { heading: null, items: [line("open", { key: "o" })] },
      { heading: "Lately", items: [line("recent:1", { label: "Fell & Tarn" })] },
      { heading: "Nothing", items: [] },
      { heading: null, items: [line("save", { key: "s", enabled: false })] },
    ],
    edit: [
      { heading: null, items: [line("undo", { key: "z" }), line("redo", { key: "shift+z" })] },
      { heading: null, items: [line("reverse")] },
    ],
    view: [
      { heading: "Colours", items: [line("theme:dark", { on: true, oneOf: true }), line("theme:light", { on: false, oneOf: true })] },
      { heading: "Text", items: [line("text-larger", { key: "+" }), line("text-smaller", { key: "-" }), line("text-usual", { key: "0" })] },
      { heading: null, items: [line("showGrid", { on: true }), line("full-screen", { key: "f11" }), line("turn", { key: "shift+u" })] },
    ],
    tools: [{ heading: "Maps", items: [line("maps"), line("courses", { key: "alt+p" })] }],
  },
  settings: line("settings", { key: "," }),
  about: line("about"),
  help: [line("cautions")],
  system: Object.fromEntries(SYSTEM_ITEMS.map((one) => [one, `System ${one}`])) as NativeMenu["system"],
}; // prettier-ignore

const made = (platform: string, forDevelopers = false) => {
  const picked: string[] = [];
  const template = menuTemplate(MENU, {
    platform,
    appName: "Legwright",
    forDevelopers,
    pick: (id) => picked.push(id),
  });
  return { template, picked };
};
const submenu = (template: MenuItemConstructorOptions[], label: string): MenuItemConstructorOptions[] =>
  (template.find((one) => one.label === label)?.submenu ?? []) as MenuItemConstructorOptions[];
const names = (items: MenuItemConstructorOptions[]): unknown[] =>
  items.map(({ type, role, id, label }) => (type === "separator" ? "–" : (role ?? id ?? label)));
const everything = (items: MenuItemConstructorOptions[]): MenuItemConstructorOptions[] =>
  items.flatMap((one) => [one, ...everything((one.submenu ?? []) as MenuItemConstructorOptions[])]);

describe("the menu", () => {
  // Where a Mac has them: Apple's Human Interface Guidelines, "The menu bar": the program's own menu comes first, with About,
  // Settings and Quit; Window and Help come last. Windows and Linux have no such menu: common practice, no source.
  it("stands as a Mac has it", () => {
    const { template } = made("darwin");
    expect(template.map(({ label }) => label)).toEqual(["Legwright", "File", "Edit", "View", "Tools", "Window", "Help"]);
    expect(names(submenu(template, "Legwright"))).toEqual(["about", "–", "settings", "–", "hide", "hideOthers", "unhide", "–", "quit"]);
    expect(names(submenu(template, "File"))).toEqual(["open", "–", "Lately", "–", "save", "–", "close"]);
    expect(names(submenu(template, "Help"))).toEqual(["cautions"]);
  }); // prettier-ignore

  it.each(["win32", "linux"])("stands as %s has it", (platform) => {
    const { template } = made(platform);
    expect(template.map(({ label }) => label)).toEqual(["File", "Edit", "View", "Tools", "Help"]);
    expect(names(submenu(template, "File"))).toEqual(["open", "–", "Lately", "–", "save", "–", "quit"]);
    expect(names(submenu(template, "Edit"))).toEqual(["undo", "redo", "–", "cut", "copy", "paste", "selectAll", "–", "reverse", "–", "settings"]);
    expect(names(submenu(template, "View"))).toEqual(["Colours", "Text", "–", "showGrid", "full-screen", "turn"]);
    expect(names(submenu(template, "Help"))).toEqual(["cautions", "–", "about"]);
  }); // prettier-ignore

  it("shows what is off, chosen, and cannot be done, and writes an & as one", () => {
    const all = everything(made("linux").template);
    const by = (id: string) => all.find((one) => one.id === id);
    expect(by("save")).toMatchObject({ enabled: false });
    expect(by("theme:dark")).toMatchObject({ type: "radio", checked: true });
    expect(by("theme:light")).toMatchObject({ type: "radio", checked: false });
    expect(by("showGrid")).toMatchObject({ type: "checkbox", checked: true });
    expect(by("open")).not.toHaveProperty("type");
    expect(by("recent:1")?.label).toBe("Fell && Tarn");
  });

  it("tells which line was chosen", () => {
    const { template, picked } = made("linux");
    for (const one of everything(template)) one.click?.({} as never, undefined, {});
    expect(picked).toContain("recent:1");
    expect(picked).toContain("settings");
    expect(new Set(picked).size).toBe(picked.length);
  });

  // Electron's documentation, "Accelerator": modifiers and key codes joined by +; a plus itself is `Plus`.
  it.each(["darwin", "win32", "linux"])("writes keys as Electron reads them, and leaves them to the window, on %s", (platform) => {
    const keyed = everything(made(platform).template).filter(({ accelerator }) => accelerator !== undefined);
    expect(keyed).toHaveLength(11);
    for (const { accelerator, registerAccelerator } of keyed) {
      expect(String(accelerator)).toMatch(/^((CmdOrCtrl|Ctrl|Cmd|Alt|Shift)\+)*([A-Z0-9,-]|Plus|F11)$/);
      expect(registerAccelerator).toBe(false);
    }
    expect(keyed.find(({ id }) => id === "full-screen")?.accelerator).toBe(platform === "darwin" ? "Ctrl+Cmd+F" : "F11");
  }); // prettier-ignore

  it("has tools for developers only where the program is not packaged", () => {
    const roles = (forDevelopers: boolean) => everything(made("linux", forDevelopers).template).map(({ role }) => role);
    expect(roles(true)).toContain("toggleDevTools");
    expect(roles(false)).not.toContain("toggleDevTools");
  }); // prettier-ignore
});
