/** What the host says of itself, once it has answered. */
import { signal } from "@preact/signals";
import type { HostInfo } from "../../electron/contract.ts";

export const hostInfo = signal<HostInfo | null>(null);
