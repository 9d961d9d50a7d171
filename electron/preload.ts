/** Puts the bridge on the window: calls by name and commands from the menu, never the transport itself. */
import { contextBridge, ipcRenderer, type IpcRendererEvent, webUtils } from "electron";
import type { Envelope, HostBridge, HostCommand } from "./contract.ts";
import { CALL_CHANNEL, COMMAND_CHANNEL, TAKE_CHANNEL } from "./shell/channels.ts";

const bridge: HostBridge = {
  call: (method, ...args) => ipcRenderer.invoke(CALL_CHANNEL, method, args) as Promise<Envelope<never>>,
  // Only for a file the person dropped or picked does the system tell a path; the page never sees it.
  takeFile: (file) =>
    ipcRenderer.invoke(
      TAKE_CHANNEL,
      webUtils.getPathForFile(file as Parameters<typeof webUtils.getPathForFile>[0]),
    ) as Promise<Envelope<never>>,
  onCommand(listener) {
    const hear = (_event: IpcRendererEvent, command: HostCommand): void => listener(command);
    ipcRenderer.on(COMMAND_CHANNEL, hear);
    return () => void ipcRenderer.off(COMMAND_CHANNEL, hear);
  },
};

contextBridge.exposeInMainWorld("legwright", bridge);
