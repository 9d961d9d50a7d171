/**
 * Killed by the system (SIGKILL) at random instants while it edits, keeps drafts and saves. The check is what the process
 * said before it died, nothing of its own code: what it called kept or saved must be read back, whole.
 * LEGWRIGHT_KILLS=2000 runs the long run.
 */
import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { randomUUID } from "node:crypto";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, expect, it } from "vitest";
import { build } from "vite";
import { parseWalk } from "../../../core/walk/walk-file.ts";
import { Drafts } from "../../../electron/services/keeping/drafts.ts";
import { Windows } from "../../../electron/services/keeping/windows.ts";

const KILLS = Number(process.env["LEGWRIGHT_KILLS"] ?? 60);

let folder: string;
beforeEach(() => void (folder = mkdtempSync(join(tmpdir(), "legwright-kill-"))));
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** The editing process as one plain file: it starts in a tenth of the time. */
async function bundled(): Promise<string> {
  await build({
    configFile: false,
    logLevel: "silent",
    build: {
      ssr: fileURLToPath(new URL("./edit-for-ever.ts", import.meta.url)),
      outDir: join(folder, "program"),
      rollupOptions: { output: { entryFileNames: "edit.mjs" } },
    },
    ssr: { noExternal: true },
  });
  return join(folder, "program/edit.mjs");
}

/** Runs it and kills it. @returns the last edit begun, kept, saved */
async function killOnce(
  program: string,
  work: string,
  window: string,
  first: number,
  afterMs: number,
): Promise<Record<"edited" | "kept" | "saved", number>> {
  const child = spawn(process.execPath, [program, work, window, String(first)], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  let said = "";
  const closed = new Promise((resolve) => child.once("close", resolve));
  const begun = new Promise<void>((resolve) => {
    child.stdout.on("data", (piece: Buffer) => {
      said += piece.toString();
      resolve();
    });
  });
  await Promise.race([begun, closed]);
  await new Promise((resolve) => setTimeout(resolve, afterMs));
  child.kill("SIGKILL");
  await closed;
  const last = (what: string): number =>
    Number([...said.matchAll(new RegExp(`^${what} (\\d+)\\n`, "gm"))].at(-1)?.[1] ?? 0);
  return { edited: last("edited"), kept: last("kept"), saved: last("saved") };
}

const editOf = (text: string): number => {
  const { walk, repairs } = parseWalk(text, "read back", "2026-01-01");
  expect(repairs).toEqual([]);
  const edit = Number(/^edit (\d+)$/.exec(walk.title)?.[1] ?? Number.NaN);
  expect(walk.points).toHaveLength(20 + (edit % 180));
  return edit;
};

it(
  `loses and tears no walk in ${KILLS} kills, and of edits at most the one being kept`,
  // A fifth of a second each on a quiet machine, several seconds on a busy one.
  { timeout: 60_000 + KILLS * 6_000 },
  async () => {
    const program = await bundled();
    const work = join(folder, "work");
    mkdirSync(work);
    let edit = 1;
    let [mostLost, found, saves] = [0, 0, 0];
    for (let kill = 0; kill < KILLS; kill++) {
      const window = randomUUID();
      // A process begins to write within some milliseconds; a golden-section sequence covers all instants evenly.
      const afterMs = ((kill * 0.618_034) % 1) * 80;
      const told = await killOnce(program, work, window, edit, afterMs);
      const saved = editOf(readFileSync(join(work, "walk.walk.geojson"), "utf8"));
      expect(saved).toBeGreaterThanOrEqual(told.saved);
      const drafts = await new Drafts(join(work, "drafts"), new Windows(join(work, "windows"))).found();
      expect(drafts.length).toBeLessThanOrEqual(1);
      const newest = Math.max(saved, ...drafts.map(({ text }) => editOf(text)));
      expect(newest).toBeGreaterThanOrEqual(told.kept);
      // Edits that no earlier run began and nothing kept.
      mostLost = Math.max(mostLost, told.edited - Math.max(newest, edit - 1));
      found += drafts.length;
      if (told.saved > 0) saves++;
      for (const { id } of drafts)
        await new Drafts(join(work, "drafts"), new Windows(join(work, "windows"))).drop(id);
      edit = Math.max(edit, newest, told.edited) + 1;
    }
    for (const key of readdirSync(join(work, "versions")))
      for (const name of readdirSync(join(work, "versions", key)))
        if (/^\d.*\.walk\.geojson$/.test(name))
          editOf(readFileSync(join(work, "versions", key, name), "utf8"));
    process.stdout.write(
      `${KILLS} kills: ${found} drafts found, ${saves} after a save, at most ${mostLost} edit missing, ${edit} edits\n`,
    );
    // Killed before anything was written, or never between a draft and its save, it would test nothing.
    expect(found).toBeGreaterThan(KILLS / 10);
    expect(saves).toBeGreaterThan(KILLS / 10);
    expect(mostLost).toBeLessThanOrEqual(1);
  },
);
