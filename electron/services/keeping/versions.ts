import { createHash } from "node:crypto";
import { promises as fs } from "node:fs";
import { basename, dirname, join } from "node:path";
import { Fault } from "../../../core/fault.ts";
import type { KeptVersion, KeptWalk } from "../../contract.ts";
import { saveAtomically } from "../atomic-save.ts";
import { fileFault } from "../file-faults.ts";

/** What a walk's file is known by in the app's folder: the same for every way of writing its path. */
export async function keyOf(path: string): Promise<string> {
  const real = await fs.realpath(path).catch(async () => {
    const folder = await fs.realpath(dirname(path)).catch(() => dirname(path));
    return join(folder, basename(path));
  });
  return createHash("sha256").update(real).digest("hex").slice(0, 32);
}

/** Number and clock time in the name: the clock may be set back, so the number alone gives the order. */
const NAME = /^(\d{8})-(\d{1,16})\.walk\.geojson$/;
const OF = "of.json";

interface Entry {
  readonly number: number;
  readonly at: number;
  readonly name: string;
}

/** Earlier texts of walk files, in the app's own folder: they outlive the file and never lie beside it. */
export class Versions {
  constructor(
    private readonly folder: string,
    /** How many of each walk are kept. */
    private readonly most: () => number,
  ) {}

  /** Keeps a text, unless it is the one kept last. @throws Fault "no-space", "read-only" */
  async keep(path: string, text: string): Promise<void> {
    const folder = join(this.folder, await keyOf(path));
    try {
      await fs.mkdir(folder, { recursive: true });
      const entries = await entriesIn(folder);
      const last = entries.at(-1);
      if (last && (await fs.readFile(join(folder, last.name), "utf8").catch(() => null)) === text) return;
      if (!last) await saveAtomically(join(folder, OF), JSON.stringify({ path }));
      await this.#add(folder, (last?.number ?? 0) + 1, text);
      const most = Math.max(1, this.most());
      for (const old of entries.slice(0, Math.max(0, entries.length + 1 - most)))
        await fs.unlink(join(folder, old.name)).catch(() => undefined);
    } catch (error) {
      throw fileFault(error, path, "has no kept version");
    }
  }

  /** Another window may keep one at the same time: it has the number then. */
  async #add(folder: string, from: number, text: string): Promise<void> {
    for (let number = from; ; number++) {
      const taken = (await entriesIn(folder)).some((entry) => entry.number === number);
      if (taken) continue;
      const name = `${String(number).padStart(8, "0")}-${Date.now()}.walk.geojson`;
      return await saveAtomically(join(folder, name), text, { replace: false });
    }
  }

  /** Every walk of which something is kept, by name. */
  async walks(): Promise<readonly KeptWalk[]> {
    const keys = await fs.readdir(this.folder).catch(() => []);
    const found = await Promise.all(
      keys.map(async (key): Promise<KeptWalk | null> => {
        const path = await pathIn(join(this.folder, key));
        if (path === null) return null;
        const there = await fs.stat(path).then(
          () => true,
          () => false,
        );
        return { key, name: basename(path), folder: basename(dirname(path)), there };
      }),
    );
    return found.filter((one) => one !== null).sort((a, b) => a.name.localeCompare(b.name));
  }

  /** The newest first, by number. @param key of `walks` or `keyOf` */
  async list(key: string): Promise<readonly KeptVersion[]> {
    const folder = join(this.folder, checked(key));
    const entries = (await entriesIn(folder)).toReversed();
    const versions = await Promise.all(
      entries.map(async ({ number, at, name }) => {
        const text = await fs.readFile(join(folder, name), "utf8").catch(() => null);
        return text === null ? null : { number, at, text };
      }),
    );
    return versions.filter((one) => one !== null);
  }
}

async function entriesIn(folder: string): Promise<Entry[]> {
  const names = await fs.readdir(folder).catch(() => []);
  return names
    .flatMap((name) => {
      const [, number, at] = NAME.exec(name) ?? [];
      return number && at ? [{ number: Number(number), at: Number(at), name }] : [];
    })
    .sort((a, b) => a.number - b.number);
}

async function pathIn(folder: string): Promise<string | null> {
  try {
    const { path } = JSON.parse(await fs.readFile(join(folder, OF), "utf8")) as { path?: unknown };
    return typeof path === "string" ? path : null;
  } catch {
    return null;
  }
}

function checked(key: string): string {
  if (!/^[0-9a-f]{32}$/.test(key)) throw new Fault("bad-argument", "There is no such kept walk.");
  return key;
}
