/** Pages of a worksheet, drawn by the host: waited for, and kept on screen by their key. */
import type { DrillWish } from "../../core/course/drills/drill.ts";
import type { ReadySheets, WorksheetOrder } from "../../electron/contract.ts";
import { host } from "../host/host.ts";
import { orderOf } from "./drill-state.ts";

export interface DrawnPages {
  readonly key: string;
  readonly set: ReadySheets;
}

/** @throws Fault as the host makes them; "cancelled" when the signal is aborted */
export async function drawWorksheet(
  drill: DrillWish,
  parts: WorksheetOrder["parts"],
  signal?: AbortSignal,
): Promise<DrawnPages> {
  const key = await host.startSheets(orderOf(drill, parts));
  const cancel = (): void => void host.cancelSheets(key).catch(() => undefined);
  signal?.addEventListener("abort", cancel, { once: true });
  if (signal?.aborted) cancel();
  try {
    for (;;) {
      const { ready } = await host.sheetsState(key);
      if (ready) return { key, set: ready };
    }
  } finally {
    signal?.removeEventListener("abort", cancel);
  }
}
