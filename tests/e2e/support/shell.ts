/** Runs the built shell over the stand-in for Electron, in a process of its own. */
import { fork } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { findApp } from "../../../electron/services/app-folder.ts";

export interface Shell {
  readonly walks: string;
  readonly settings: string;
  /** Resolves when the program has ended. */
  readonly ended: Promise<void>;
  ask(question: string, args?: Readonly<Record<string, unknown>>): Promise<unknown>;
  /** Calls the host as the page does, and gives the envelope. */
  call(method: string, ...args: unknown[]): Promise<unknown>;
  close(): Promise<void>;
}

export interface ShellOptions {
  /** What the program is started with. @param walks folder of walks, which is there already */
  readonly args?: (walks: string) => readonly string[];
  /** What the settings file holds. */
  readonly stored?: Readonly<Record<string, unknown>>;
}

export async function startShell({ args, stored }: ShellOptions = {}): Promise<Shell> {
  const { folder } = findApp();
  const main = join(folder, "dist/electron/main.js");
  if (!existsSync(main)) throw new Error("The shell is not built: npm run build");
  const root = mkdtempSync(join(tmpdir(), "legwright-shell-"));
  const [walks, settings] = [join(root, "walks"), join(root, "settings")];
  mkdirSync(walks);
  mkdirSync(settings);
  if (stored) writeFileSync(join(settings, "settings.json"), JSON.stringify(stored));
  const child = fork(main, [...(args?.(walks) ?? [])], {
    execArgv: ["--import", fileURLToPath(new URL("./electron-stand-in/register.mjs", import.meta.url))],
    env: { ...process.env, LEGWRIGHT_WALKS: walks, LEGWRIGHT_SETTINGS: settings },
    stdio: ["ignore", "inherit", "inherit", "ipc"],
  });
  const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
  const waiting = new Map<number, { resolve: (value: unknown) => void; reject: (error: Error) => void }>();
  child.on("message", (message) => {
    const { id, value, error } = message as { id: number; value?: unknown; error?: string };
    if (error === undefined) waiting.get(id)?.resolve(value);
    else waiting.get(id)?.reject(new Error(error));
    waiting.delete(id);
  });
  void ended.then(() => {
    for (const { reject } of waiting.values()) reject(new Error("the shell ended"));
  });
  let next = 0;
  const ask: Shell["ask"] = (question, args = {}) =>
    new Promise((resolve, reject) => {
      if (!child.connected) return reject(new Error("the shell ended"));
      const id = next++;
      waiting.set(id, { resolve, reject });
      child.send({ id, question, args });
    });
  const shell: Shell = {
    walks,
    settings,
    ended,
    ask,
    call: (method, ...args) =>
      ask("evaluate", {
        code: `window.legwright.call(${[method, ...args].map((arg) => JSON.stringify(arg)).join(", ")})`,
      }),
    async close() {
      if (child.connected) child.disconnect();
      await ended;
      rmSync(root, { recursive: true, force: true });
    },
  };
  // The window shows itself when its page is there.
  for (const end = Date.now() + 60_000; Date.now() < end;) {
    if (await ask("shown").catch(() => false)) return shell;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  await shell.close();
  throw new Error("The shell did not show its window.");
}
