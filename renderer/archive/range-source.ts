/** Bytes of an archive by HTTP range requests to the host. Used by the window's map and by the worker alike. */
import { Fault } from "../../core/fault.ts";
import { GONE_HEADER } from "../../electron/contract.ts";
import type { ByteSource } from "../../core/map/source.ts";

/** What is called, once for each source, when the file it reads is no longer where it was. */
export type Gone = (key: string) => void;

/**
 * @param url where the host serves the archive's bytes
 * @param key the archive's file name, for messages
 */
export function rangeSource(url: string, key: string, gone?: Gone): ByteSource {
  let told = gone === undefined;
  return {
    key,
    async read(offset, length, signal) {
      let response: Response;
      try {
        response = await fetch(url, {
          headers: { range: `bytes=${offset}-${offset + length - 1}` },
          ...(signal ? { signal } : {}),
        });
      } catch (thrown) {
        if (signal?.aborted) throw new Fault("cancelled", "Reading was cancelled.", key);
        throw new Fault(
          "no-file",
          "The map's file cannot be read.",
          key,
          thrown instanceof Error ? thrown.message : null,
        );
      }
      // Asked past its end, an archive has no bytes to give: the reader then says what is missing.
      if (response.status === 416) return new Uint8Array(0);
      if (response.status === 404)
        throw new Fault("no-file", "The map's file is gone.", key, "Put it back, or choose another map.");
      if (response.status === 409)
        throw new Fault(
          "changed-on-disk",
          "The map's file was changed by another program while it was open.",
          key,
          "Put it right, then open it again.",
        );
      if (!told && response.headers.has(GONE_HEADER)) {
        told = true;
        gone?.(key);
      }
      if (!response.ok)
        throw new Fault("bad-archive", `The map's file cannot be read (${response.status}).`, key);
      const bytes = new Uint8Array(await response.arrayBuffer());
      // A server that knows no ranges sends everything.
      return response.status === 206 ? bytes : bytes.slice(offset, offset + length);
    },
  };
}
