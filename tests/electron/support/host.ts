import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Fault } from "../../../core/fault.ts";
import type { MapInfo } from "../../../core/map/metadata.ts";
import type { ByteSource } from "../../../core/map/source.ts";
import { pageFiles } from "../../../electron/browser-host/page-files.ts";
import { type BrowserHost, startBrowserHost } from "../../../electron/browser-host/server.ts";
import { openConfSettings } from "../../../electron/services/conf-settings.ts";
import type { PagePrinter } from "../../../electron/services/sheets/page-printer.ts";
import { createServices, type Services } from "../../../electron/services/services.ts";

/** Folders of one test: an app with a built window, shipped maps, a person's walks, settings. */
export interface Place {
  readonly root: string;
  readonly walks: string;
  readonly samples: string;
  readonly window: string;
  readonly settings: string;
  remove(): void;
}

export function makePlace(): Place {
  const root = mkdtempSync(join(tmpdir(), "legwright-host-"));
  const folder = (name: string): string => {
    mkdirSync(join(root, name));
    return join(root, name);
  };
  const place = {
    root,
    walks: folder("walks"),
    samples: folder("sample-maps"),
    window: folder("window"),
    settings: folder("settings"),
    remove: () => rmSync(root, { recursive: true, force: true }),
  };
  writeFileSync(join(place.window, "index.html"), "<!doctype html><title>window</title>");
  writeFileSync(join(root, "secret.txt"), "secret");
  return place;
}

/** Stands for reading an archive: the title is the file's text, and a text "broken" cannot be read. */
export async function readInfoOfText(source: ByteSource): Promise<MapInfo> {
  const text = new TextDecoder().decode(await source.read(0, 20)).trim();
  if (text.startsWith("broken")) throw new Fault("bad-archive", "It is broken.", source.key, "Get it again.");
  return {
    id: `id-${text}`,
    title: text,
    bounds: [0, 0, 1, 1],
    minZoom: 8,
    maxZoom: 14,
    roles: {},
    rolesFrom: "metadata",
    interval: null,
    source: null,
    date: null,
    attribution: null,
    datum: null,
    invented: false,
    elevationCellM: null,
  };
}

export function makeServices(place: Place, printer?: PagePrinter): Services {
  return createServices({
    app: { folder: place.root, version: "0.0.0" },
    host: { host: "browser", dialogs: "page", folderName: "walks" },
    walksFolder: place.walks,
    settings: openConfSettings(place.settings),
    chooser: pageFiles(place.walks),
    printer: printer ?? null,
    readInfo: readInfoOfText,
  });
}

export function startHost(place: Place, onUsedAddress?: (fresh: string) => void): Promise<BrowserHost> {
  return startBrowserHost({
    services: makeServices(place),
    windowFolder: place.window,
    maxBodyBytes: 100_000,
    ...(onUsedAddress ? { onUsedAddress } : {}),
  });
}

export interface Reply {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly text: string;
  readonly bytes: Buffer;
}

/** A request exactly as given: unlike fetch, any Host, Origin and path can be sent. */
export function send(
  origin: string,
  options: { method?: string; path?: string; headers?: Record<string, string>; body?: string | Buffer },
): Promise<Reply> {
  const { hostname, port } = new URL(origin);
  return new Promise((resolve, reject) => {
    const outgoing = request(
      {
        hostname,
        port,
        method: options.method ?? "GET",
        path: options.path ?? "/",
        headers: options.headers ?? {},
        agent: false,
      },
      (incoming) => {
        const pieces: Buffer[] = [];
        incoming.on("data", (piece: Buffer) => pieces.push(piece));
        incoming.on("error", reject);
        incoming.on("end", () => {
          const bytes = Buffer.concat(pieces);
          resolve({
            status: incoming.statusCode ?? 0,
            headers: incoming.headers,
            text: bytes.toString(),
            bytes,
          });
        });
      },
    );
    outgoing.on("error", reject);
    outgoing.end(options.body);
  });
}

/** Comes in by the entrance, as a browser does, and gives the cookie to send from then on. */
export async function enter(host: BrowserHost): Promise<string> {
  const { pathname, search } = new URL(host.entrance());
  const reply = await send(host.origin, { path: pathname + search });
  const cookie = reply.headers["set-cookie"]?.[0]?.split(";")[0];
  if (reply.status !== 303 || !cookie) throw new Error(`not let in: ${reply.status}`);
  return cookie;
}
