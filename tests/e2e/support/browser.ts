import { type Browser, chromium } from "playwright-core";
import { CHROMIUM_REMEDY, findChromium } from "../../../electron/launch/find-chromium.mjs";

/** The installed Chromium without a window, drawing in software, with all of its own talk to the network off. */
export async function launchBrowser(): Promise<Browser> {
  const executablePath = findChromium();
  if (!executablePath) throw new Error(`No Chromium. ${CHROMIUM_REMEDY}`);
  return await chromium.launch({
    executablePath,
    // Chromium refuses its sandbox to root.
    chromiumSandbox: process.getuid?.() !== 0,
    args: [
      "--disable-quic",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--no-first-run",
      "--use-angle=swiftshader",
      "--enable-unsafe-swiftshader",
    ],
  });
}
