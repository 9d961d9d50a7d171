import { type BrowserWindow, ipcMain, type IpcMainInvokeEvent } from "electron";
import { Fault } from "../../core/fault.ts";
import type { Envelope, FileHandle, HostApi } from "../contract.ts";
import { answer } from "../services/answer.ts";
import { APP_ORIGIN } from "./app-protocol.ts";
import { CALL_CHANNEL, TAKE_CHANNEL } from "./channels.ts";

/** Answers the window's calls. A call from any other frame or page is refused, in words. */
export function answerCalls(
  api: HostApi,
  window: () => BrowserWindow | null,
  take: (path: string) => FileHandle,
): void {
  const refused = (): Envelope<never> => ({
    ok: false,
    fault: new Fault("not-allowed", "This page may not call the app.").toRecord(),
  });
  ipcMain.handle(TAKE_CHANNEL, (event, path: unknown): Envelope<FileHandle> => {
    if (!isFromWindow(event, window())) return refused();
    if (typeof path === "string" && path !== "") return { ok: true, value: take(path) };
    const fault = new Fault(
      "bad-argument",
      "The system does not say where this file lies.",
      null,
      "Choose it with the dialog.",
    );
    return { ok: false, fault: fault.toRecord() };
  });
  ipcMain.handle(CALL_CHANNEL, async (event, method: unknown, args: unknown): Promise<Envelope<unknown>> => {
    if (!isFromWindow(event, window())) return refused();
    return await answer(api, method, args);
  });
}

function isFromWindow(event: IpcMainInvokeEvent, window: BrowserWindow | null): boolean {
  const frame = event.senderFrame;
  if (!window || !frame || frame !== window.webContents.mainFrame) return false;
  return frame.url.startsWith(`${APP_ORIGIN}/`);
}
