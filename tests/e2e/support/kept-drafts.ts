/** The unsaved work that the host of a test window keeps. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { type TestWindow, until } from "./window.ts";

/** The texts of all drafts; null while one is being written. */
function keptTexts(window: TestWindow): string[] | null {
  const folder = join(window.walksFolder, "../settings/kept/drafts");
  try {
    return readdirSync(folder)
      .filter((name) => name.endsWith(".json") && !name.startsWith("."))
      .map((name) => (JSON.parse(readFileSync(join(folder, name), "utf8")) as { text: string }).text);
  } catch (thrown) {
    return (thrown as NodeJS.ErrnoException).code === "ENOENT" ? [] : null;
  }
}

/** Waits until the host keeps one draft with so many points. */
export async function untilKept(window: TestWindow, points: number): Promise<void> {
  await until(async () => {
    const texts = keptTexts(window);
    return texts?.length === 1 && texts[0]!.split('"part":"point"').length - 1 === points;
  }, `${points} points to be kept`);
}

/** Waits until nothing is kept: what is loaded again now offers no unsaved work. */
export async function untilNothingKept(window: TestWindow): Promise<void> {
  await until(async () => keptTexts(window)?.length === 0, "the draft to be given up");
}
