import { spawn } from "node:child_process";
import { findChromium } from "../launch/find-chromium.mjs";

type Env = Readonly<Record<string, string | undefined>>;

/**
 * The command that shows an address: an installed Chromium as a window of its own, else the system's way to open an
 * address; null where there is no screen. Root gets no browser: Chromium would have to give up its sandbox.
 */
export function browserCommand(
  address: string,
  env: Env = process.env,
  platform: string = process.platform,
  uid: number | undefined = process.getuid?.(),
): { readonly command: string; readonly args: readonly string[] } | null {
  if (env.LEGWRIGHT_NO_BROWSER || uid === 0) return null;
  if (platform === "linux" && !env.DISPLAY && !env.WAYLAND_DISPLAY) return null;
  const chromium = findChromium(env);
  if (chromium) return { command: chromium, args: [`--app=${address}`, "--no-first-run"] };
  if (platform === "darwin") return { command: "open", args: [address] };
  if (platform === "win32") return { command: "rundll32", args: ["url.dll,FileProtocolHandler", address] };
  return { command: "xdg-open", args: [address] };
}

/** Shows the address; false when that could not even be tried. */
export async function openBrowser(address: string): Promise<boolean> {
  const found = browserCommand(address);
  if (!found) return false;
  return await new Promise((resolve) => {
    const child = spawn(found.command, found.args, { stdio: "ignore", detached: true });
    child.once("error", () => resolve(false));
    child.once("spawn", () => {
      child.unref();
      resolve(true);
    });
  });
}
