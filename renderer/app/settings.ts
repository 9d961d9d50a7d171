/** What the person prefers, kept by the host. Works with the defaults until the host has answered. */
import { computed, signal } from "@preact/signals";
import { type Settings, USUAL_SETTINGS } from "../../electron/contract.ts";
import { host } from "../host/host.ts";
import { sayFault } from "./notices.ts";

// The caution waits until the host has said whether it was seen.
export const settings = signal<Settings>({ ...USUAL_SETTINGS, cautionSeen: true });

export const lengthUnit = computed(() => settings.value.lengthUnit);

export async function loadSettings(): Promise<void> {
  settings.value = await host.getSettings();
}

/** Takes effect at once; a host that cannot keep it says so. */
export function changeSettings(change: Partial<Settings>): void {
  settings.value = { ...settings.value, ...change };
  host.setSettings(change).catch(sayFault);
}
