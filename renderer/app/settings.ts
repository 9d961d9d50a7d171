/** What the person prefers, kept by the host. Works with the defaults until the host has answered. */
import { computed, signal } from "@preact/signals";
import type { Settings } from "../../electron/contract.ts";
import { host } from "../host/host.ts";
import { sayFault } from "./notices.ts";

export const settings = signal<Settings>({
  theme: "system",
  lengthUnit: "metric",
  lastMapId: null,
  cautionSeen: true,
  window: { width: 1280, height: 800, maximised: false },
});

export const lengthUnit = computed(() => settings.value.lengthUnit);

export async function loadSettings(): Promise<void> {
  settings.value = await host.getSettings();
}

/** Takes effect at once; a host that cannot keep it says so. */
export function changeSettings(change: Partial<Settings>): void {
  settings.value = { ...settings.value, ...change };
  host.setSettings(change).catch(sayFault);
}
