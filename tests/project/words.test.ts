/** What people read in the window stands in renderer/words, so that it can be translated: no component holds text of its own. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";

const renderer = fileURLToPath(new URL("../../renderer", import.meta.url));

const components = (folder: string): string[] =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    return entry.isDirectory() ? components(path) : path.endsWith(".tsx") ? [path] : [];
  });

/** Names of keys are written as they stand on keyboards. */
const KEYS = new Set(["Enter", "Shift+Enter", "Esc"]);
const BETWEEN_TAGS = />([^<>{}()=;]*[A-Za-z]{3}[^<>{}()=;]*)<\//g;
const IN_ATTRIBUTES = /\s(?:aria-label|title|placeholder|alt)="([^"]*[A-Za-z]{2}[^"]*)"/g;

test("no component holds text of its own", () => {
  const all = components(renderer);
  expect(all.length).toBeGreaterThan(60);
  const own = all.flatMap((path) => {
    const text = readFileSync(path, "utf8");
    return [BETWEEN_TAGS, IN_ATTRIBUTES].flatMap((pattern) =>
      [...text.matchAll(pattern)]
        .map(([, found = ""]) => found.trim())
        .filter((found) => !KEYS.has(found))
        .map((found) => `${path.slice(renderer.length + 1)}: ${found}`),
    );
  });
  expect(own).toEqual([]);
});
