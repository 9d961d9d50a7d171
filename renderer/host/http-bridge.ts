/** The host over HTTP, when the window runs in a browser: POST api/<method> {"args": […]} gives an envelope. */
import { Fault } from "../../core/fault.ts";
import type { Envelope, FileHandle, HostApi, HostBridge, HostMethod } from "../../electron/contract.ts";

const lost = (what: string): Envelope<never> => ({
  ok: false,
  fault: {
    code: "unavailable",
    what,
    where: null,
    remedy: "Start Legwright again in its terminal. Keep this page open: what you drew is still here.",
  },
});

export function httpBridge(): HostBridge {
  return {
    async call<M extends HostMethod>(method: M, ...args: Parameters<HostApi[M]>) {
      type Reply = Envelope<Awaited<ReturnType<HostApi[M]>>>;
      let response: Response;
      try {
        response = await fetch(`api/${method}`, {
          method: "POST",
          headers: { "content-type": "application/json" },
          body: JSON.stringify({ args }),
          // Sent as the page goes away: it must arrive all the same.
          keepalive: method === "cancelMapMaking" || method === "leave",
        });
      } catch {
        return lost("Legwright's local program does not answer.");
      }
      try {
        return (await response.json()) as Reply;
      } catch {
        return lost(`Legwright's local program gave an answer that cannot be read (${response.status}).`);
      }
    },
    takeFile: (file, told, signal) => upload(file as File, told, signal),
    // A browser host has no menu of its own.
    onCommand: () => () => {},
  };
}

/** Sends a file's bytes; a request of the older kind, as fetch does not tell how much has gone. */
function upload(
  file: File,
  told?: (done: number) => void,
  signal?: AbortSignal,
): Promise<Envelope<FileHandle>> {
  return new Promise((resolve) => {
    const request = new XMLHttpRequest();
    request.open("POST", `take/${encodeURIComponent(file.name)}`);
    request.setRequestHeader("content-type", "application/octet-stream");
    request.upload.addEventListener("progress", ({ loaded, total }) =>
      told?.(total > 0 ? loaded / total : 1),
    );
    request.addEventListener("load", () => {
      try {
        resolve(JSON.parse(request.responseText) as Envelope<FileHandle>);
      } catch {
        resolve(lost(`Legwright's local program gave an answer that cannot be read (${request.status}).`));
      }
    });
    request.addEventListener("error", () => resolve(lost("Legwright's local program does not answer.")));
    request.addEventListener("abort", () =>
      resolve({ ok: false, fault: new Fault("cancelled", "Taking in the file was stopped.").toRecord() }),
    );
    signal?.addEventListener("abort", () => request.abort(), { once: true });
    request.send(file);
  });
}
