import { protocol, session as sessions, type Session } from "electron";
import { Fault } from "../../core/fault.ts";
import { SAFETY_HEADERS } from "../services/content-policy.ts";
import { MAP_PATH, type OpenedMaps } from "../services/opened-maps.ts";
import { windowFile } from "../services/window-files.ts";

export const SCHEME = "legwright";
/** The window's origin. */
export const APP_ORIGIN = `${SCHEME}://app`;

/** Must run before the app is ready: an origin of its own with fetch, storage and workers, and none of file:'s rights. */
export function registerScheme(): void {
  protocol.registerSchemesAsPrivileged([
    { scheme: SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true } },
  ]);
}

/** Serves the built window and the archives opened in this run, and nothing else. */
export function serveApp(
  windowFolder: string,
  openedMaps: OpenedMaps,
  session: Session = sessions.defaultSession,
): void {
  session.protocol.handle(SCHEME, (request) => answer(request, windowFolder, openedMaps));
}

async function answer(request: Request, windowFolder: string, openedMaps: OpenedMaps): Promise<Response> {
  const url = new URL(request.url);
  if (url.host !== "app") return plain(404, "There is no such place.");
  if (request.method !== "GET" && request.method !== "HEAD")
    return plain(405, "This method is not used here.");
  const bodyless = request.method === "HEAD";
  if (url.pathname.startsWith(MAP_PATH)) {
    const { status, headers, length, read } = await openedMaps.answer(
      url.pathname,
      request.headers.get("range"),
    );
    const body = read && !bodyless ? streamOf(length, read) : null;
    return new Response(body, { status, headers: { ...SAFETY_HEADERS, ...headers } });
  }
  const file = await windowFile(windowFolder, url.pathname);
  if (!file) return plain(404, "There is no such file.");
  const headers = {
    ...SAFETY_HEADERS,
    "content-type": file.type,
    "content-length": String(file.bytes.length),
    "cache-control": file.lasting ? "max-age=31536000, immutable" : "no-store",
  };
  return new Response(bodyless ? null : new Uint8Array(file.bytes), { status: 200, headers });
}

const PIECE_BYTES = 1024 * 1024;

function streamOf(
  length: number,
  read: (from: number, length: number) => Promise<Uint8Array>,
): ReadableStream<Uint8Array> {
  let sent = 0;
  return new ReadableStream({
    async pull(controller) {
      if (sent >= length) return controller.close();
      const piece = await read(sent, Math.min(PIECE_BYTES, length - sent));
      if (piece.length === 0) throw new Fault("bad-archive", "The archive was cut short while it was open.");
      sent += piece.length;
      controller.enqueue(piece);
    },
  });
}

function plain(status: number, text: string): Response {
  return new Response(`${text}\n`, {
    status,
    headers: { ...SAFETY_HEADERS, "content-type": "text/plain; charset=utf-8" },
  });
}
