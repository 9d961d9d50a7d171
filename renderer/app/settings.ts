/** What the person prefers, kept by the host. Works with the defaults until the host has answered. */
import { computed, signal } from "@preact/signals";
import type { LengthUnit } from "../../core/units/format.ts";
import { type Settings, USUAL_SETTINGS } from "../../electron/contract.ts";
import { Fault } from "../../core/fault.ts";
import { host } from "../host/host.ts";
import { sayFault } from "./notices.ts";

// The caution waits until the host has said whether it was seen.
export const settings = signal<Settings>({ ...USUAL_SETTINGS, cautionSeen: true });

/** How lengths are written, as core takes it. */
export const lengthUnit = computed<LengthUnit>(() => {
  const { lengths, lengthUnit: system } = settings.value;
  return lengths === null ? system : `${system}:${lengths}`;
});

export async function loadSettings(): Promise<void> {
  settings.value = await host.getSettings();
}

/** Takes effect at once; a host that cannot keep it says so, and what it refuses is taken back. */
export function changeSettings(change: Partial<Settings>): void {
  const before = settings.value;
  settings.value = { ...before, ...change };
  host.setSettings(change).catch((thrown: unknown) => {
    sayFault(thrown);
    if (Fault.from(thrown).code !== "bad-argument") return;
    const kept = Object.keys(change).map((key) => [key, before[key as keyof Settings]]);
    settings.value = { ...settings.value, ...(Object.fromEntries(kept) as Partial<Settings>) };
  });
}
