import { type BrowserWindow, ipcMain, type IpcMainInvokeEvent } from "electron";
import { Fault } from "../../core/fault.ts";
import type { Envelope, HostApi } from "../contract.ts";
import { answer } from "../services/answer.ts";
import { APP_ORIGIN } from "./app-protocol.ts";
import { CALL_CHANNEL } from "./channels.ts";

/** Answers the window's calls. A call from any other frame or page is refused, in words. */
export function answerCalls(api: HostApi, window: () => BrowserWindow | null): void {
  ipcMain.handle(CALL_CHANNEL, async (event, method: unknown, args: unknown): Promise<Envelope<unknown>> => {
    if (!isFromWindow(event, window())) {
      const fault = new Fault("not-allowed", "This page may not call the app.");
      return { ok: false, fault: fault.toRecord() };
    }
    return await answer(api, method, args);
  });
}

function isFromWindow(event: IpcMainInvokeEvent, window: BrowserWindow | null): boolean {
  const frame = event.senderFrame;
  if (!window || !frame || frame !== window.webContents.mainFrame) return false;
  return frame.url.startsWith(`${APP_ORIGIN}/`);
}
