import type { IncomingMessage } from "node:http";

/** A printed document with its pictures is the largest thing a window sends. */
export const MAX_BODY_BYTES = 96 * 1024 * 1024;

/** The body as text, or null for too much as soon as that is known. */
export async function readBody(request: IncomingMessage, limit = MAX_BODY_BYTES): Promise<string | null> {
  if (Number(request.headers["content-length"] ?? 0) > limit) return null;
  const pieces: Buffer[] = [];
  let size = 0;
  for await (const piece of request as AsyncIterable<Buffer>) {
    size += piece.length;
    if (size > limit) return null;
    pieces.push(piece);
  }
  return Buffer.concat(pieces).toString("utf8");
}
