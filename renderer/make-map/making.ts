/** The map that is being made, if one is: told of as long as the window stands, whichever dialog is open. */
import { signal } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import type { MakingState, MapOrder } from "../../electron/contract.ts";
import { say, sayFault } from "../app/notices.ts";
import { host } from "../host/host.ts";
import { openMapById, refreshMapCase } from "../map-case/map-case.ts";
import { mapWords } from "../words/map-words.ts";

export interface Making {
  readonly key: string;
  readonly title: string;
  readonly state: Pick<MakingState, "stage" | "done" | "leftS">;
  readonly stopping: boolean;
}

export const making = signal<Making | null>(null);

const POLL_MS = 300;

/** @returns whether a map was made; a failure is told by the returned fault, stopping by null */
export async function makeMap(order: MapOrder): Promise<true | Fault | null> {
  try {
    const key = await host.startMapMaking(order);
    making.value = { key, title: order.title, state: { stage: "", done: 0, leftS: null }, stopping: false };
    for (;;) {
      const state = await host.mapMakingState(key);
      if (state.fault) throw Fault.fromRecord(state.fault);
      if (state.entry) {
        making.value = null;
        await refreshMapCase();
        say(mapWords.making.made(state.entry.title));
        for (const note of state.notes) say(note);
        await openMapById(state.entry.id);
        return true;
      }
      if (making.value?.key === key) making.value = { ...making.value, state };
      await new Promise((resolve) => setTimeout(resolve, POLL_MS));
    }
  } catch (thrown) {
    const fault = Fault.from(thrown);
    if (fault.code !== "cancelled") return fault;
    say(mapWords.making.stopped);
    return null;
  } finally {
    making.value = null;
  }
}

export async function stopMaking(): Promise<void> {
  const now = making.peek();
  if (!now) return;
  making.value = { ...now, stopping: true };
  await host.cancelMapMaking(now.key).catch(sayFault);
}

/** The window asks before it goes while a map is being made, and the map goes with it. */
export function keepMaking(): void {
  window.addEventListener("beforeunload", (event) => {
    if (making.peek()) event.preventDefault();
  });
  window.addEventListener("pagehide", () => {
    const now = making.peek();
    if (now) void host.cancelMapMaking(now.key).catch(() => undefined);
  });
}
