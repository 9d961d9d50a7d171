/**
 * Stands for the `electron` module over Node and the installed Chromium, so that main and preload run unmodified where
 * the Electron executable cannot be had. Not faithful: the origin is http: instead of legwright:, the preload shares
 * the page's world, sandbox and isolation are only noted, and the rules for navigation, permissions and devices are
 * collected (see control.mjs) but not enforced by the browser.
 */
import { EventEmitter } from "node:events";
import { readFileSync } from "node:fs";
import { chromium } from "playwright-core";
import { findChromium } from "../../../../electron/launch/find-chromium.mjs";

const HOSTS = /^http:\/\/(app|print)\.legwright\.localhost/;
const toApp = (url) => url.replace(HOSTS, "legwright://$1");
const toHttp = (url) => url.replace(/^legwright:\/\/(app|print)/, "http://$1.legwright.localhost");

/** What tests ask of the stand-in. */
export const noted = {
  windows: [],
  answers: [],
  asked: [],
  printed: [],
  menu: null,
  recent: [],
  problems: [],
  privileged: [],
};

const browser = await chromium.launch({
  executablePath: findChromium() ?? undefined,
  chromiumSandbox: process.getuid?.() !== 0,
  args: [
    "--disable-quic",
    "--disable-background-networking",
    "--disable-component-update",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
  ],
});

class App extends EventEmitter {
  name = "";
  #paths = new Map();
  setName(name) {
    this.name = name;
  }
  getName = () => this.name;
  getVersion = () => "0.0.0";
  setPath(name, path) {
    this.#paths.set(name, path);
  }
  getPath(name) {
    const path = this.#paths.get(name);
    if (!path) throw new Error(`no path was set for ${name}`);
    return path;
  }
  isPackaged = false;
  requestSingleInstanceLock(data) {
    noted.lockData = data;
    return process.env.STAND_IN_SECOND !== "1";
  }
  addRecentDocument = (path) => void noted.recent.push(path);
  clearRecentDocuments = () => void noted.recent.splice(0);
  enableSandbox() {
    noted.sandboxed = true;
  }
  whenReady = () => new Promise((resolve) => setTimeout(resolve, 10));
  /** Windows go first; one that stays ends the quitting. */
  async quit() {
    if (this.#ending) return this.end();
    this.emit("before-quit", {});
    for (const window of openWindows()) await window.close();
    if (openWindows().length === 0) this.end();
  }
  #ending = false;
  /** Without asking anybody. */
  end() {
    this.#ending = true;
    // What has something to finish holds it back, and quits anew.
    let held = false;
    this.emit("will-quit", { preventDefault: () => (held = true) });
    if (held) return;
    void browser.close().then(() => process.exit(0));
  }
}
export const app = new App();
const openWindows = () => noted.windows.filter(({ gone }) => !gone);

class Session extends EventEmitter {
  handlers = new Map();
  beforeRequest = null;
  protocol = { handle: (scheme, handler) => void this.handlers.set(scheme, handler) };
  webRequest = { onBeforeRequest: (listener) => void (this.beforeRequest = listener) };
  setPermissionRequestHandler(handler) {
    this.permissionRequest = handler;
  }
  setPermissionCheckHandler(handler) {
    this.permissionCheck = handler;
  }
  setDevicePermissionHandler(handler) {
    this.devicePermission = handler;
  }
}
const partitions = new Map();
export const session = {
  defaultSession: new Session(),
  fromPartition(name) {
    if (!partitions.has(name)) partitions.set(name, new Session());
    return partitions.get(name);
  },
};
export const protocol = {
  registerSchemesAsPrivileged: (schemes) => noted.privileged.push(...schemes),
};

export const ipcMain = Object.assign(new EventEmitter(), {
  handlers: new Map(),
  handle(channel, handler) {
    if (this.handlers.has(channel)) throw new Error(`a second handler for ${channel}`);
    this.handlers.set(channel, handler);
  },
});

class WebContents extends EventEmitter {
  mainFrame = { url: "" };
  setWindowOpenHandler(handler) {
    this.windowOpen = handler;
  }
  send(channel, ...args) {
    void this.page?.evaluate(([name, values]) => globalThis.standIn?.receive(name, values), [channel, args]);
  }
  /** The system's dialog answers as the test said beforehand; what would print is kept as a PDF of the same page. */
  print(options, done) {
    const { success, reason } = noted.answers.shift() ?? {
      success: false,
      reason: "Print job canceled",
    };
    void this.page
      .pdf({ preferCSSPageSize: true, printBackground: options.printBackground })
      .then((pdf) => {
        noted.printed.push({ options, url: this.mainFrame.url, pdf: Buffer.from(pdf).toString("base64") });
        done(success, reason);
      })
      .catch((error) => done(false, error.message));
  }
}

/** Runs in the page before anything of the app: what a preload may require. */
function preloadWorld(code) {
  return `(() => {
    const listeners = new Map();
    globalThis.close = () => globalThis.standInClose();
    globalThis.standIn = { receive: (channel, args) => (listeners.get(channel) ?? []).forEach((hear) => hear({}, ...args)) };
    const electron = {
      contextBridge: { exposeInMainWorld: (name, value) => Object.defineProperty(globalThis, name, { value, configurable: false }) },
      ipcRenderer: {
        invoke: (channel, ...args) => globalThis.standInInvoke(channel, args),
        on: (channel, hear) => void listeners.set(channel, [...(listeners.get(channel) ?? []), hear]),
        off: (channel, hear) => void listeners.set(channel, (listeners.get(channel) ?? []).filter((other) => other !== hear)),
      },
    };
    const required = (name) => { if (name !== "electron") throw new Error("a sandboxed preload cannot require " + name); return electron; };
    ((require) => {
      ${code}
    })(required);
  })();`;
}

export class BrowserWindow extends EventEmitter {
  webContents = new WebContents();
  #bounds;
  constructor(options) {
    super();
    this.options = options;
    const { width = 800, height = 600, x = 0, y = 0, webPreferences = {} } = options;
    this.#bounds = { x, y, width, height };
    this.session = webPreferences.session ?? session.defaultSession;
    this.#opened = this.#open(webPreferences);
    noted.windows.push(this);
    app.emit("web-contents-created", {}, this.webContents);
  }
  #opened;
  async #open({ preload, javascript }) {
    this.context = await browser.newContext({
      viewport: { width: this.#bounds.width, height: this.#bounds.height },
      javaScriptEnabled: javascript !== false,
    });
    await this.context.route("**", (route) => this.#serve(route));
    await this.context.exposeBinding("standInInvoke", async ({ frame, page }, channel, args) => {
      const senderFrame =
        frame === page.mainFrame() ? this.webContents.mainFrame : { url: toApp(frame.url()) };
      senderFrame.url = toApp(frame.url());
      return await ipcMain.handlers.get(channel)({ senderFrame }, ...args);
    });
    await this.context.exposeBinding("standInClose", () => this.close());
    if (preload) await this.context.addInitScript(preloadWorld(readFileSync(preload, "utf8")));
    this.context.on("console", (message) => {
      if (message.type() === "error") noted.problems.push(message.text());
    });
    this.context.on("weberror", (error) => noted.problems.push(error.error().message));
    this.webContents.page = await this.context.newPage();
  }
  async #serve(route) {
    const request = route.request();
    const url = toApp(request.url());
    const cancel = await new Promise((resolve) => {
      if (!this.session.beforeRequest) resolve(false);
      else this.session.beforeRequest({ url }, (answer) => resolve(answer.cancel === true));
    });
    const handler = this.session.handlers.get(new URL(url).protocol.slice(0, -1));
    if (cancel || !handler) return await route.abort();
    const body = request.postDataBuffer();
    const headers = { ...(await request.allHeaders()) };
    for (const name of Object.keys(headers)) if (name.startsWith(":")) delete headers[name];
    const response = await handler(
      new Request(url, { method: request.method(), headers, ...(body ? { body } : {}) }),
    );
    await route.fulfill({
      status: response.status,
      headers: Object.fromEntries(response.headers),
      body: Buffer.from(await response.arrayBuffer()),
    });
  }
  async loadURL(url) {
    await this.#opened;
    this.webContents.mainFrame.url = url;
    await this.webContents.page.goto(toHttp(url), { waitUntil: "load" });
    this.emit("ready-to-show");
  }
  show() {
    this.shown = true;
  }
  focus() {
    this.focused = true;
  }
  restore() {}
  maximized = false;
  fullScreen = false;
  maximize() {
    this.maximized = true;
  }
  setFullScreen(fills) {
    this.fullScreen = fills;
  }
  isMinimized = () => false;
  isMaximized = () => this.maximized;
  isFullScreen = () => this.fullScreen;
  getNormalBounds = () => this.#bounds;
  /** The page may hold on to what it has; then the app is told, and may let it go all the same. */
  async close() {
    if (this.gone) return;
    this.emit("close", { preventDefault() {} });
    const stays = await this.webContents.page.evaluate(
      () => !globalThis.dispatchEvent(new Event("beforeunload", { cancelable: true })),
    );
    let goes = !stays;
    if (stays) this.webContents.emit("will-prevent-unload", { preventDefault: () => (goes = true) });
    if (goes) this.destroy();
  }
  destroy() {
    this.gone = true;
    void this.context?.close();
    this.emit("closed");
    if (openWindows().length === 0) app.emit("window-all-closed");
  }
}

const nextAnswer = (kind, options) => {
  noted.asked.push({ kind, options });
  return noted.answers.shift() ?? { canceled: true, filePaths: [], filePath: "" };
};
export const dialog = {
  showOpenDialog: async (...args) => nextAnswer("open", args.at(-1)),
  showSaveDialog: async (...args) => nextAnswer("save", args.at(-1)),
  showMessageBoxSync: (...args) => nextAnswer("message", args.at(-1)),
};
/** The desktop: what it was asked to show is noted. */
export const shell = {
  showItemInFolder: (path) => void noted.asked.push({ kind: "show", options: { path } }),
};
/** One screen, as large as tests say. */
export const screen = {
  getAllDisplays: () => [{ workArea: { x: 0, y: 0, width: 1600, height: 1000 } }],
};
export const Menu = {
  buildFromTemplate: (template) => template,
  setApplicationMenu: (menu) => void (noted.menu = menu),
};

export default { app, session, protocol, ipcMain, BrowserWindow, dialog, Menu, screen, shell };

// After the module: the control uses what it exports.
const { listen } = await import("./control.mjs");
listen({ app, session, ipcMain, noted });
