/** What the shell asks of Electron, noted: windows' preferences, handlers of sessions and pages. For `vi.mock("electron")`. */
import { EventEmitter } from "node:events";

type Handler = (...args: never[]) => unknown;

export class RecordedSession extends EventEmitter {
  readonly handlers: Record<string, Handler> = {};
  readonly schemes = new Map<string, (request: Request) => Promise<Response>>();
  readonly protocol = {
    handle: (scheme: string, handler: (request: Request) => Promise<Response>): void =>
      void this.schemes.set(scheme, handler),
  };
  readonly webRequest = {
    onBeforeRequest: (handler: Handler): void => void (this.handlers["request"] = handler),
  };
  setPermissionRequestHandler(handler: Handler): void {
    this.handlers["permission"] = handler;
  }
  setPermissionCheckHandler(handler: Handler): void {
    this.handlers["check"] = handler;
  }
  setDevicePermissionHandler(handler: Handler): void {
    this.handlers["device"] = handler;
  }
}

export class RecordedContents extends EventEmitter {
  windowOpen: Handler | null = null;
  mainFrame = { url: "legwright://app/" };
  setWindowOpenHandler(handler: Handler): void {
    this.windowOpen = handler;
  }
  print(_options: unknown, done: (printed: boolean, reason: string) => void): void {
    done(true, "");
  }
}

export class RecordedWindow extends EventEmitter {
  static readonly all: RecordedWindow[] = [];
  readonly webContents = new RecordedContents();
  readonly urls: string[] = [];
  constructor(readonly options: { readonly webPreferences: Readonly<Record<string, unknown>> }) {
    super();
    RecordedWindow.all.push(this);
  }
  async loadURL(url: string): Promise<void> {
    this.urls.push(url);
  }
  destroy(): void {}
}

export const recorder = {
  app: Object.assign(new EventEmitter(), { name: "Legwright" }),
  sessions: new Map<string, RecordedSession>(),
  privileged: [] as { scheme: string; privileges: Record<string, boolean> }[],
  ipc: new Map<string, Handler>(),
};

export const sessionOf = (name: string): RecordedSession => {
  const one = recorder.sessions.get(name) ?? new RecordedSession();
  recorder.sessions.set(name, one);
  return one;
};

export const electron = {
  app: recorder.app,
  BrowserWindow: RecordedWindow,
  session: { defaultSession: sessionOf("default"), fromPartition: sessionOf },
  protocol: {
    registerSchemesAsPrivileged: (schemes: typeof recorder.privileged): void =>
      void recorder.privileged.push(...schemes),
  },
  ipcMain: {
    handle: (channel: string, handler: Handler): void => void recorder.ipc.set(channel, handler),
  },
  dialog: {},
  screen: { getAllDisplays: () => [{ workArea: { x: 0, y: 0, width: 1600, height: 1000 } }] },
};
