/**
 * The host as the window sees it: every method of HostApi, failing only with a Fault. Behind it is the bridge that
 * the shell put on the window or, in a browser, the page's own HTTP client.
 */
import {
  type FileHandle,
  HOST_METHODS,
  type HostApi,
  type HostBridge,
  type HostMethod,
} from "../../electron/contract.ts";
import { Fault } from "../../core/fault.ts";
import { httpBridge } from "./http-bridge.ts";

declare global {
  interface Window {
    readonly legwright?: HostBridge;
  }
}

const bridge: HostBridge = window.legwright ?? httpBridge();

async function call<M extends HostMethod>(
  method: M,
  ...args: Parameters<HostApi[M]>
): Promise<Awaited<ReturnType<HostApi[M]>>> {
  const envelope = await bridge.call(method, ...args);
  if (!envelope.ok) throw Fault.fromRecord(envelope.fault);
  return envelope.value;
}

// One function a method; the compiler checks the list, the cast only joins the names back to their types.
export const host = Object.fromEntries(
  (Object.keys(HOST_METHODS) as HostMethod[]).map((method) => [
    method,
    (...args: Parameters<HostApi[typeof method]>) => call(method, ...args),
  ]),
) as unknown as HostApi;

export const onHostCommand: HostBridge["onCommand"] = (listener) => bridge.onCommand(listener);

/** A file dropped on the window or picked in it. @throws Fault */
export async function takeFile(
  file: File,
  told?: (done: number) => void,
  signal?: AbortSignal,
): Promise<FileHandle> {
  const envelope = await bridge.takeFile(file, told, signal);
  if (!envelope.ok) throw Fault.fromRecord(envelope.fault);
  return envelope.value;
}
