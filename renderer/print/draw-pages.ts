/** Pages drawn by the host: waited for, and kept there by their key. */
import type { ReadySheets, SheetOrder } from "../../electron/contract.ts";
import { host } from "../host/host.ts";

export interface DrawnPages {
  readonly key: string;
  readonly set: ReadySheets;
}

interface Waiting {
  readonly signal?: AbortSignal;
  /** How far they are. */
  readonly told?: (done: number, all: number) => void;
}

/** @throws Fault as the host makes them; "cancelled" when the signal is aborted */
export async function drawPages(order: SheetOrder, { signal, told }: Waiting = {}): Promise<DrawnPages> {
  const key = await host.startSheets(order);
  const cancel = (): void => void host.cancelSheets(key).catch(() => undefined);
  signal?.addEventListener("abort", cancel, { once: true });
  if (signal?.aborted) cancel();
  try {
    for (;;) {
      const { done, all, ready } = await host.sheetsState(key);
      if (ready) return { key, set: ready };
      told?.(done, all);
    }
  } finally {
    signal?.removeEventListener("abort", cancel);
  }
}
