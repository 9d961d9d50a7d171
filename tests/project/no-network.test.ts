/**
 * Every end-to-end test looks out for requests that leave the program: windows are opened by the helper that watches them
 * and fails on closing (`openTestWindow`), or run over the stand-in for Electron, which serves each request itself or
 * refuses it. A browser opened in any other way is named here with its reason.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";

const folder = resolve(import.meta.dirname, "../e2e");
const tests = readdirSync(folder, { recursive: true, encoding: "utf8" })
  .map((name) => name.replaceAll("\\", "/"))
  .filter((name) => name.endsWith(".test.ts"));
const textOf = (name: string): string => readFileSync(join(folder, name), "utf8");

/** Pages that are no window of the program in a watched browser. */
const OTHER_PAGES: Readonly<Record<string, string>> = {
  "shell/browser-host.test.ts": "strangers' pages, which must not get in",
  "shell/real-electron.test.ts":
    "Electron itself: the shell’s own filter is tried in electron/security/checklist.test.ts",
  "ground-decoders.test.ts": "a page without an address, into which one module is put",
};

describe("end-to-end tests", () => {
  it("are found at all", () => {
    expect(tests.length).toBeGreaterThan(20);
  });

  it.each(tests)("%s opens pages where they are watched only", (name) => {
    const text = textOf(name);
    const watched = /\b(windowsOfThisFile|openTestWindow|startShell)\(/.test(text);
    const own = /\bbrowser\.new(Context|Page)\(|\bchromium\.launch|\b_electron\b/.test(text);
    if (own) expect(OTHER_PAGES, "a browser of its own").toHaveProperty([name]);
    else expect(watched, "no watched window").toBe(true);
  });

  it("end a window with the check, and the check fails on a request that left", () => {
    expect(textOf("support/window.ts")).toMatch(/close\(\) \{[^}]*watch\.checkNothingLeft\(\)/);
    // What it does is tried in e2e/shell/browser-host.test.ts, “the watch over the window”.
    expect(textOf("shell/browser-host.test.ts")).toContain("a request that leaves the host");
  });
});
