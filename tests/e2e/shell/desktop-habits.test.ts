/** What people expect of a program on their desktop, over the stand-in for Electron: its menu, files opened from outside, going. */
import { copyFileSync, existsSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, expect, it } from "vitest";
import { findApp } from "../../../electron/services/app-folder.ts";
import { writeHillsMap } from "../support/hills-map.ts";
import { plain, pointsFile } from "../support/planner.ts";
import { type Shell, type ShellOptions, startShell } from "../support/shell.ts";
import { until } from "../support/window.ts";

const PRACTICE = join(findApp().folder, "sample-maps/uldermoor-practice.walk.geojson");
const LINE = pointsFile([
  [-133.19, 46.34],
  [-133.18, 46.35],
]);

let shell: Shell;
afterEach(async () => {
  // Requests that leave the program are refused and would stand here.
  const problems = await shell.ask("problems").catch(() => []);
  await shell.close();
  expect(problems).toEqual([]);
});

const inPage = async (code: string): Promise<string> => {
  const value = await shell.ask("evaluate", { code });
  return typeof value === "string" ? plain(value) : "";
};
const part = (name: string): Promise<string> =>
  inPage(`document.querySelector('[data-test="${name}"]')?.textContent ?? ""`);
const title = (): Promise<string> => inPage(`document.querySelector('[data-test="title"]')?.value`);
const asked = (): Promise<string> => inPage(`document.querySelector("dialog[open] h2")?.textContent ?? ""`);
const press = (button: string): Promise<string> =>
  inPage(
    `[...document.querySelectorAll("dialog[open] button")].find((one) => one.textContent === ${JSON.stringify(button)}).click()`,
  );
const menu = (label: string): Promise<unknown> => shell.ask("menu", { label });
const line = async (label: string): Promise<Record<string, unknown>> =>
  (await shell.ask("menuItem", { label })) as Record<string, unknown>;
const soon = (check: () => Promise<boolean>, what: string): Promise<void> => until(check, what, 80_000);

/** A walk in the folder of walks, which the program is started with. */
async function startWith(
  files: Readonly<Record<string, string>>,
  stored: ShellOptions["stored"] = {},
): Promise<void> {
  shell = await startShell({
    stored: { cautionSeen: true, ...stored },
    args: (walks) =>
      Object.entries(files).map(([name, text]) => {
        writeFileSync(join(walks, name), text);
        return join(walks, name);
      }),
  });
}
const practice = (name: string): Readonly<Record<string, string>> => ({
  [name]: readFileSync(PRACTICE, "utf8"),
});
const opened = (): Promise<void> =>
  soon(async () => (await part("saved-state")) === "saved", "the walk to open");
const changed = async (): Promise<void> => {
  await soon(async () => (await line("Turn the walk round"))["enabled"] === true, "the walk in the menu");
  await menu("Turn the walk round");
  await soon(async () => (await part("saved-state")) === "not saved", "an unsaved change");
};

it("a walk named at the start opens as its own file; the menu follows what can be done, and does it", async () => {
  await startWith(practice("round.walk.geojson"));
  await opened();
  const first = await title();
  expect(await shell.ask("menuTitles")).toEqual(["File", "Edit", "View", "Tools", "Help"]);
  await soon(
    async () => (await line("round.walk.geojson · walks"))["enabled"] === true,
    "the walk among those opened lately",
  );
  expect(await line("Undo")).toMatchObject({ enabled: false, accelerator: "CmdOrCtrl+Z" });
  expect(await line("Save")).toMatchObject({ enabled: false });
  expect(await line("New walk")).toMatchObject({ enabled: true, accelerator: "CmdOrCtrl+N" });
  await changed();
  const undo = "Undo: Turn the walk round";
  await soon(async () => (await line(undo))["enabled"] === true, "the name of the step in the menu");
  expect(await line("Save")).toMatchObject({ enabled: true });

  // While one types undo is the field's.
  await inPage(`document.querySelector('[data-test="title"]').focus()`);
  await soon(async () => (await line("Undo"))["enabled"] === true, "the field's undo");
  await inPage(`document.activeElement.blur()`);
  await soon(async () => (await line(undo))["enabled"] === true, "the walk's undo");
  await menu(undo);
  await soon(async () => (await part("saved-state")) === "saved", "the step to be taken back");

  expect(await line("Dark")).toMatchObject({ type: "radio", checked: false });
  await menu("Dark");
  await soon(async () => (await line("Dark"))["checked"] === true, "a tick at Dark");
  expect(await inPage("document.documentElement.dataset.theme")).toBe("dark");
  expect(await line("Grid lines")).toMatchObject({ type: "checkbox", checked: false });
  await menu("Grid lines");
  await soon(async () => (await line("Grid lines"))["checked"] === true, "a tick at the grid lines");
  await menu("Larger text");
  await soon(async () => (await line("125\u00a0%"))["checked"] === true, "a tick at the larger text");

  // A dialog is answered before anything else is done.
  await menu("About Legwright…");
  await soon(async () => (await asked()).startsWith("Legwright"), "the page about the program");
  await soon(async () => (await line("Turn the walk round"))["enabled"] === false, "the menu to wait");
  await menu("Turn the walk round");
  await press("Close");
  await soon(async () => (await line("Turn the walk round"))["enabled"] === true, "the menu again");
  expect(await part("saved-state")).toBe("saved");
  expect(await title()).toBe(first);

  await menu("Fill the screen");
  await soon(async () => (await shell.ask("fullScreen")) === true, "the screen to be filled");
  await inPage(`window.dispatchEvent(new KeyboardEvent("keydown", { key: "F11" }))`);
  await soon(async () => (await shell.ask("fullScreen")) === false, "the screen to be left");
  await inPage(`window.dispatchEvent(new KeyboardEvent("keydown", { key: "n", ctrlKey: true }))`);
  await soon(async () => (await title()) === "New walk", "a new walk");
});

it("files from outside open in the window that runs, and ask about unsaved work first", async () => {
  await startWith(practice("round.walk.geojson"));
  await opened();
  const first = await title();
  expect(await shell.ask("lockData")).toEqual({ files: [join(shell.walks, "round.walk.geojson")] });
  const other = join(shell.walks, "other.geojson");
  writeFileSync(other, LINE);
  await changed();

  expect(await shell.ask("secondInstance", { files: [other] })).toBe(true);
  await soon(async () => (await asked()) === `Save “${first}” first?`, "the question about the open walk");
  await press("Go back");
  await soon(async () => (await asked()) === "", "the question to go");
  expect(await title()).toBe(first);
  await shell.ask("secondInstance", { files: [other] });
  await soon(async () => (await asked()) !== "", "the question again");
  await press("Don’t save");
  await soon(async () => (await title()) !== first, "the other walk");

  // A Mac tells by an event of its own.
  expect(await shell.ask("openFile", { path: join(shell.walks, "round.walk.geojson") })).toBe(false);
  await soon(async () => (await title()) === first, "the first walk again");

  const map = await writeHillsMap(join(shell.walks, ".."));
  await shell.ask("secondInstance", { files: [map] });
  await soon(async () => (await part("map-button")).includes("Hills"), "the map");
  const track = join(shell.walks, "track.gpx");
  writeFileSync(track, "<gpx/>");
  await shell.ask("secondInstance", { files: [track] });
  await soon(
    async () => (await part("notice")).includes("track.gpx is neither"),
    "a word about what is no walk",
  );
});

it("several walks at once: the first is opened, the others lie beside it", async () => {
  await startWith({ ...practice("a.walk.geojson"), "b.geojson": LINE });
  await soon(
    async () => (await part("notice")).includes("lies beside the open walk"),
    "the second walk beside",
  );
  expect(await part("saved-state")).toBe("saved");
});

it("walks opened lately open from the menu again; one that is gone is told of and taken off", async () => {
  await startWith(practice("round.walk.geojson"));
  await opened();
  const path = join(shell.walks, "round.walk.geojson");
  const entry = "round.walk.geojson · walks";
  expect(await shell.ask("recent")).toEqual([path]);
  await menu("New walk");
  await soon(async () => (await part("saved-state")) === "", "a new walk");
  await soon(async () => (await line(entry))["enabled"] === true, "the walk among those opened lately");
  await menu(entry);
  await opened();
  await menu("New walk");
  await soon(async () => (await part("saved-state")) === "", "a new walk");
  copyFileSync(path, join(shell.walks, "moved.walk.geojson"));
  rmSync(path);
  await inPage(`window.dispatchEvent(new Event("focus"))`);
  const gone = "round.walk.geojson · not there now";
  await soon(async () => (await line(gone))["enabled"] === true, "the list to know that it is gone");
  await menu(gone);
  await soon(async () => (await asked()) === "round.walk.geojson is not where it was", "a word about it");
  await shell.ask("answer", {
    answer: { canceled: false, filePaths: [join(shell.walks, "moved.walk.geojson")] },
  });
  await press("Open it from elsewhere…");
  await opened();
  await soon(
    async () => ((await shell.ask("recent")) as string[]).join() === join(shell.walks, "moved.walk.geojson"),
    "the list without the one that is gone",
  );
  await soon(async () => (await line("Forget these walks"))["enabled"] === true, "a way to forget");
  await menu("Forget these walks");
  await soon(async () => ((await shell.ask("recent")) as string[]).length === 0, "an empty list");
  expect(existsSync(join(shell.walks, "moved.walk.geojson"))).toBe(true);
});

it("closing asks about unsaved work, and saving there ends the program with the work on disk", async () => {
  await startWith(practice("round.walk.geojson"), {
    window: { width: 900, height: 700, x: 40, y: 30, maximised: false },
  });
  await opened();
  expect(await shell.ask("options")).toMatchObject({ width: 900, height: 700, x: 40, y: 30 });
  const before = readFileSync(join(shell.walks, "round.walk.geojson"), "utf8");
  await changed();
  await shell.ask("close");
  await soon(async () => (await asked()).startsWith("Save “"), "the question");
  await press("Go back");
  await soon(async () => (await asked()) === "", "the question to go");
  await shell.ask("quit");
  await soon(async () => (await asked()).startsWith("Save “"), "the question again");
  await menu("Fill the screen").catch(() => undefined);
  await press("Save");
  await shell.ended;
  expect(readFileSync(join(shell.walks, "round.walk.geojson"), "utf8")).not.toBe(before);
  expect(JSON.parse(readFileSync(join(shell.settings, "settings.json"), "utf8"))).toMatchObject({
    window: { width: 900, height: 700, x: 40, y: 30, maximised: false, fullScreen: false },
  });
});

it("what the person does not want saved is given up, and not offered at the next start", async () => {
  await startWith(practice("round.walk.geojson"), { window: { x: -9000, y: 30, fullScreen: true } });
  await opened();
  // The screen on which the window was is gone.
  expect(await shell.ask("options")).not.toHaveProperty("x");
  expect(await shell.ask("fullScreen")).toBe(true);
  const before = readFileSync(join(shell.walks, "round.walk.geojson"), "utf8");
  await changed();
  await shell.ask("close");
  await soon(async () => (await asked()).startsWith("Save “"), "the question");
  await press("Don’t save");
  await shell.ended;
  expect(readFileSync(join(shell.walks, "round.walk.geojson"), "utf8")).toBe(before);
});
