/**
 * A window's work without a window: edits, keeps a draft, saves, over and over until it is killed. Before each step it says
 * what it is about to do, and after it that it is done. The walk's title counts the edits; so many points has it.
 */
import { writeSync } from "node:fs";
import { join } from "node:path";
import { formatWalk } from "../../../core/walk/walk-file.ts";
import { emptyWalk, NOTHING_UNKNOWN, type Walk } from "../../../core/walk/walk.ts";
import { Drafts } from "../../../electron/services/keeping/drafts.ts";
import { Versions } from "../../../electron/services/keeping/versions.ts";
import { Windows } from "../../../electron/services/keeping/windows.ts";
import { WalkFiles } from "../../../electron/services/walk-files.ts";

const [folder, window, first] = process.argv.slice(2);
if (!folder || !window || !first) throw new Error("needs a folder, a window's id and the first edit");

const walkOf = (edit: number): Walk => ({
  ...emptyWalk("2026-06-01"),
  title: `edit ${edit}`,
  points: Array.from({ length: 20 + (edit % 180) }, (_, i) => ({
    id: `p${i}`,
    name: null,
    lonLat: [-133 + i / 1000, 46 + (edit % 1000) / 1000],
    note: "山歩き".repeat(10),
    unknown: NOTHING_UNKNOWN,
    aimOff: false,
    instruction: null,
    unknownOfLeg: NOTHING_UNKNOWN,
  })),
});

// At once, whatever waits in the pipe: what was said before a kill was done.
const say = (what: string, edit: number): void => void writeSync(1, `${what} ${edit}\n`);
const windows = new Windows(join(folder, "windows"));
const drafts = new Drafts(join(folder, "drafts"), windows);
const walks = new WalkFiles(new Versions(join(folder, "versions"), () => 5));
const path = join(folder, "walk.walk.geojson");
const { file } = await walks.open(path).catch(() => walks.saveAs(path, formatWalk(walkOf(0)), true));
await windows.beat(window);
for (let edit = Number(first); ; edit++) {
  const now = walkOf(edit);
  const text = formatWalk(now);
  say("edited", edit);
  await drafts.keep(window, 0, { title: now.title, text, path });
  say("kept", edit);
  if (edit % 3 !== 0) continue;
  await walks.save(file, text, false);
  say("saved", edit);
  await drafts.keep(window, 0, null);
}
