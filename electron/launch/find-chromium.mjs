import { accessSync, constants } from "node:fs";
import { delimiter, join } from "node:path";

const ON_PATH = [
  "chromium",
  "chromium-browser",
  "google-chrome-stable",
  "google-chrome",
  "microsoft-edge-stable",
  "microsoft-edge",
];

/** Where installers put a Chromium or a browser built on it, where it is not on the path. */
function installedPlaces() {
  if (process.platform === "darwin") {
    return [
      "/Applications/Chromium.app/Contents/MacOS/Chromium",
      "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
      "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
    ];
  }
  if (process.platform === "win32") {
    const roots = [process.env.LOCALAPPDATA, process.env.PROGRAMFILES, process.env["PROGRAMFILES(X86)"]];
    const programs = [
      "Chromium\\Application\\chrome.exe",
      "Google\\Chrome\\Application\\chrome.exe",
      "Microsoft\\Edge\\Application\\msedge.exe",
    ];
    return roots.flatMap((root) => (root ? programs.map((program) => join(root, program)) : []));
  }
  return [];
}

/** Path of an installed Chromium (or a browser built on it), or null. CHROMIUM_PATH, when set, is the only one tried. */
export function findChromium(env = process.env) {
  if (env.CHROMIUM_PATH) return isExecutable(env.CHROMIUM_PATH) ? env.CHROMIUM_PATH : null;
  const suffix = process.platform === "win32" ? ".exe" : "";
  const folders = (env.PATH ?? "").split(delimiter).filter(Boolean);
  const candidates = [
    ...ON_PATH.flatMap((name) => folders.map((folder) => join(folder, name + suffix))),
    ...installedPlaces(),
  ];
  return candidates.find(isExecutable) ?? null;
}

function isExecutable(path) {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

export const CHROMIUM_REMEDY =
  "Install Chromium (on Debian: apt-get install chromium), or set CHROMIUM_PATH to a browser built on it.";
