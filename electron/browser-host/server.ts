/**
 * The window's host without Electron: the same services over HTTP, on this computer only.
 *
 *   POST /api/<method>   body {"args": […]}, content-type: application/json → an Envelope as JSON
 *   POST /take/<name>    body the bytes of a file, with its length → an Envelope with the file's handle
 *   GET  /map/<key>/…    an opened archive, whole or by Range
 *   GET  /enter?key=…    lets one browser in, then leads to /
 *   GET  anything else   a file of the built window
 *
 * No CORS headers are ever sent. A refused call answers with an Envelope too, and a status that says why.
 */
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { Fault } from "../../core/fault.ts";
import { answer } from "../services/answer.ts";
import { SAFETY_HEADERS } from "../services/content-policy.ts";
import { MAP_PATH } from "../services/opened-maps.ts";
import type { Services } from "../services/services.ts";
import { takeUpload } from "../services/take-upload.ts";
import { windowFile } from "../services/window-files.ts";
import { Guard } from "./guard.ts";
import { MAX_BODY_BYTES, readBody } from "./read-body.ts";

export interface BrowserHost {
  /** http://127.0.0.1:<port> */
  readonly origin: string;
  /** The address that lets one browser in; a new one each time it has been used. */
  entrance(): string;
  close(): Promise<void>;
}

export interface BrowserHostOptions {
  readonly services: Services;
  /** Folder of the built window. */
  readonly windowFolder: string;
  /** Called when an address was used a second time, with a fresh one for the person at the terminal. */
  readonly onUsedAddress?: (fresh: string) => void;
  readonly maxBodyBytes?: number;
}

/** Where files of the page are sent to. */
const TAKE_PATH = "/take/";

/** Pieces in which an archive is sent: a browser that stops reading costs this much memory, no more. */
const PIECE_BYTES = 1024 * 1024;

/** Starts serving on 127.0.0.1 at a port the system picks. */
export async function startBrowserHost(options: BrowserHostOptions): Promise<BrowserHost> {
  let guard: Guard | null = null;
  const server = createServer((request, response) => {
    if (!guard) return void response.destroy();
    handle(request, response, guard, options).catch(() => response.destroy());
  });
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen(0, "127.0.0.1", resolve);
  });
  const { port } = server.address() as AddressInfo;
  const origin = `http://127.0.0.1:${port}`;
  guard = new Guard(origin, port);
  const open = guard;
  return {
    origin,
    entrance: () => open.entrance,
    async close() {
      await new Promise<void>((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      });
      await options.services.close();
    },
  };
}

async function handle(
  request: IncomingMessage,
  response: ServerResponse,
  guard: Guard,
  options: BrowserHostOptions,
): Promise<void> {
  for (const [name, value] of Object.entries(SAFETY_HEADERS)) response.setHeader(name, value);
  const method = request.method ?? "";
  const refusal = guard.refusal(method, request.headers);
  if (refusal) return refuse(response, 403, `Refused: ${refusal}.`);
  if (method !== "GET" && method !== "HEAD" && method !== "POST") {
    response.setHeader("allow", "GET, HEAD, POST");
    return refuse(response, 405, "This method is not used here.");
  }
  const url = parseTarget(request.url ?? "", guard.origin);
  if (!url) return refuse(response, 400, "This address makes no sense.");

  if (url.pathname === "/enter" && method === "GET") return enter(url, request, response, guard, options);
  if (!guard.isInside(request.headers)) {
    return refuse(response, 403, "Open the address that Legwright printed in the terminal.");
  }
  if (method === "POST" && url.pathname.startsWith(TAKE_PATH))
    return await takeFile(url, request, response, options);
  if (method === "POST") return await serveCall(url, request, response, options);
  if (url.pathname.startsWith(MAP_PATH)) return await serveArchive(url, request, response, options);
  return await serveFile(url, request, response, options);
}

/** The target as sent, never normalised over the folder: only an absolute path is taken. */
function parseTarget(target: string, origin: string): URL | null {
  if (!target.startsWith("/") || target.startsWith("//")) return null;
  return URL.canParse(target, origin) ? new URL(target, origin) : null;
}

function enter(
  url: URL,
  request: IncomingMessage,
  response: ServerResponse,
  guard: Guard,
  options: BrowserHostOptions,
): void {
  const result = guard.enter(url.searchParams.get("key") ?? "");
  if (result === null || (result === "used" && !guard.isInside(request.headers))) {
    if (result === "used") options.onUsedAddress?.(guard.entrance);
    return refuse(
      response,
      403,
      result === "used"
        ? "This address has been used. A new one is in the terminal."
        : "This address is not of this run.",
    );
  }
  if (result !== "used") response.setHeader("set-cookie", result.cookie);
  response.writeHead(303, { location: "/", "cache-control": "no-store" }).end();
}

async function serveCall(
  url: URL,
  request: IncomingMessage,
  response: ServerResponse,
  options: BrowserHostOptions,
): Promise<void> {
  const refuseCall = (status: number, fault: Fault): void => {
    sendJson(response, status, { ok: false, fault: fault.toRecord() });
    // What is still being sent is not wanted.
    request.resume();
  };
  if (!url.pathname.startsWith("/api/"))
    return refuseCall(404, new Fault("not-allowed", "There is nothing to call here."));
  if (!/^application\/json\s*(;|$)/i.test(request.headers["content-type"] ?? "")) {
    return refuseCall(415, new Fault("bad-argument", "A call is made with content-type: application/json."));
  }
  const body = await readBody(request, options.maxBodyBytes ?? MAX_BODY_BYTES);
  if (body === null) {
    response.setHeader("connection", "close");
    return refuseCall(413, new Fault("bad-argument", "This is too large to be handled.", "the call's body"));
  }
  let args: unknown;
  try {
    args = (JSON.parse(body) as { args?: unknown } | null)?.args;
  } catch {
    return refuseCall(400, new Fault("bad-argument", "The call is not valid JSON.", "the call's body"));
  }
  sendJson(response, 200, await answer(options.services.api, url.pathname.slice("/api/".length), args));
}

/** A file from the page, into the person's folder. */
async function takeFile(
  url: URL,
  request: IncomingMessage,
  response: ServerResponse,
  { services }: BrowserHostOptions,
): Promise<void> {
  try {
    const length = Number(request.headers["content-length"] ?? Number.NaN);
    if (!Number.isSafeInteger(length))
      throw new Fault("bad-argument", "The length of the file was not said.", "content-length");
    if (!/^application\/octet-stream$/i.test(request.headers["content-type"] ?? ""))
      throw new Fault("bad-argument", "A file comes with content-type: application/octet-stream.");
    const name = decoded(url.pathname.slice(TAKE_PATH.length));
    const path = await takeUpload(services.walksFolder, name, length, request as AsyncIterable<Uint8Array>);
    sendJson(response, 200, { ok: true, value: services.picked.take(path) });
  } catch (error) {
    // What is still being sent is not wanted; it is let run out, so that the answer is read.
    request.resume();
    sendJson(response, 200, { ok: false, fault: Fault.from(error).toRecord() });
  }
}

function decoded(name: string): string {
  try {
    return decodeURIComponent(name);
  } catch {
    throw new Fault("bad-argument", "The name of the file cannot be read.", name.slice(0, 80));
  }
}

async function serveArchive(
  url: URL,
  request: IncomingMessage,
  response: ServerResponse,
  options: BrowserHostOptions,
): Promise<void> {
  const { status, headers, length, read } = await options.services.openedMaps.answer(
    url.pathname,
    request.headers.range,
  );
  response.writeHead(status, headers);
  if (!read || request.method === "HEAD") return void response.end();
  for (let sent = 0; sent < length;) {
    const piece = await read(sent, Math.min(PIECE_BYTES, length - sent));
    // Cut short on disk: the promised length cannot be kept, and a broken connection says so.
    if (piece.length === 0) return void response.destroy();
    sent += piece.length;
    if (!response.write(piece)) await drained(response);
    if (response.destroyed) return;
  }
  response.end();
}

function drained(response: ServerResponse): Promise<void> {
  return new Promise((resolve) => {
    const done = (): void => {
      response.off("drain", done).off("close", done);
      resolve();
    };
    response.on("drain", done).on("close", done);
  });
}

async function serveFile(
  url: URL,
  request: IncomingMessage,
  response: ServerResponse,
  options: BrowserHostOptions,
): Promise<void> {
  const file = await windowFile(options.windowFolder, url.pathname);
  if (!file) return refuse(response, 404, "There is no such file.");
  response.writeHead(200, {
    "content-type": file.type,
    "content-length": file.bytes.length,
    // The port is another's tomorrow; nothing of ours may stay in the browser under it.
    "cache-control": "no-store",
  });
  response.end(request.method === "HEAD" ? undefined : file.bytes);
}

function refuse(response: ServerResponse, status: number, text: string): void {
  const body = Buffer.from(`${text}\n`);
  response.writeHead(status, {
    "content-type": "text/plain; charset=utf-8",
    "content-length": body.length,
    "cache-control": "no-store",
  });
  response.end(body);
}

function sendJson(response: ServerResponse, status: number, value: unknown): void {
  const body = Buffer.from(JSON.stringify(value));
  response.writeHead(status, {
    "content-type": "application/json; charset=utf-8",
    "content-length": body.length,
    "cache-control": "no-store",
  });
  response.end(body);
}
