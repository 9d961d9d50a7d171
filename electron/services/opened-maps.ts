import { randomUUID } from "node:crypto";
import type { OpenedMap } from "../contract.ts";
import { GONE_HEADER } from "../contract.ts";
import { answerRange } from "./byte-range.ts";
import { openFileSource, type FileSource } from "./file-source.ts";
import type { FoundMap } from "./map-case.ts";

/** Where archives lie on the window's origin, in both hosts. */
export const MAP_PATH = "/map/";

interface Opened {
  readonly path: string;
  readonly archive: FileSource;
  readonly terrain: FileSource | null;
}

/** Part of an archive, ready to send. `read` is null when there is nothing to send. */
export interface ArchiveAnswer {
  readonly status: 200 | 206 | 404 | 409 | 416;
  readonly headers: Readonly<Record<string, string>>;
  readonly length: number;
  /** Reads a piece of what is to be sent, `from` counted from its start. */
  readonly read: ((from: number, length: number) => Promise<Uint8Array>) | null;
}

/** The archives opened in this run: the only files of the computer that the window's addresses reach. */
export class OpenedMaps {
  readonly #opened = new Map<string, Opened>();

  /** @throws Fault when the archive has gone since the case was listed */
  async open(map: FoundMap): Promise<OpenedMap> {
    const archive = await openFileSource(map.path);
    const terrain = map.terrainPath ? await openFileSource(map.terrainPath).catch(() => null) : null;
    const key = (await this.#same(map.path, { path: map.path, archive, terrain })) ?? randomUUID();
    if (!this.#opened.has(key)) this.#opened.set(key, { path: map.path, archive, terrain });
    return {
      id: map.entry.id,
      fileName: map.entry.fileName,
      archiveUrl: `${MAP_PATH}${key}/archive`,
      terrainUrl: terrain ? `${MAP_PATH}${key}/terrain` : null,
    };
  }

  /** The key under which the very same files are open already; what was opened for asking is closed then. */
  async #same(path: string, now: Opened): Promise<string | null> {
    for (const [key, before] of this.#opened) {
      const isSame =
        before.path === path &&
        before.archive.tag === now.archive.tag &&
        before.terrain?.tag === now.terrain?.tag;
      if (!isSame) continue;
      await now.archive.close();
      await now.terrain?.close();
      return key;
    }
    return null;
  }

  /**
   * Answers a request for `/map/<key>/archive` or `/map/<key>/terrain`, in part or whole. 409 for a file that another program
   * wrote over since: half of the old and half of the new would be no map. One that is gone is served still, and that is said.
   */
  async answer(pathname: string, range: string | null | undefined): Promise<ArchiveAnswer> {
    const match = /^\/map\/([0-9a-f-]{36})\/(archive|terrain)$/.exec(pathname);
    const opened = match?.[1] ? this.#opened.get(match[1]) : undefined;
    const source = match?.[2] === "terrain" ? opened?.terrain : opened?.archive;
    if (!source) return { status: 404, headers: { "content-length": "0" }, length: 0, read: null };
    const state = await source.state();
    if (state === "changed")
      return { status: 409, headers: { "content-length": "0" }, length: 0, read: null };
    const answer = answerRange(range, source.sizeBytes);
    const headers = {
      ...answer.headers,
      "content-type": "application/octet-stream",
      etag: `"${source.tag}"`,
      "cache-control": "no-store",
      ...(state === "gone" ? { [GONE_HEADER]: "1" } : {}),
    };
    if (answer.status === 416) return { status: 416, headers, length: 0, read: null };
    const { start } = answer;
    return {
      status: answer.status,
      headers,
      length: answer.length,
      read: (from, length) => source.read(start + from, length),
    };
  }

  async close(): Promise<void> {
    for (const { archive, terrain } of this.#opened.values()) {
      await archive.close();
      await terrain?.close();
    }
    this.#opened.clear();
  }
}
