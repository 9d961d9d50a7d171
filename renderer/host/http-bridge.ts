/** The host over HTTP, when the window runs in a browser: POST api/<method> {"args": […]} gives an envelope. */
import type { Envelope, HostApi, HostBridge, HostMethod } from "../../electron/contract.ts";

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
    // A browser host has no menu of its own.
    onCommand: () => () => {},
  };
}
