import { spawn } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { APP_FOLDER, stop } from "./app-folder.mjs";

/**
 * Whether node_modules holds exactly what package-lock.json asks for. The two lists are compared rather than their
 * dates: a checkout or a copy sets dates at will, and reinstalling for nothing would pull packages from under a
 * running build.
 */
export function isInstalled(folder = APP_FOLDER) {
  const installedList = join(folder, "node_modules", ".package-lock.json");
  if (!existsSync(installedList)) return false;
  try {
    const wanted = JSON.parse(readFileSync(join(folder, "package-lock.json"), "utf8")).packages;
    const installed = JSON.parse(readFileSync(installedList, "utf8")).packages;
    for (const [path, entry] of Object.entries(wanted)) {
      if (path === "") continue;
      const there = installed[path];
      // Packages for other platforms are optional and rightly absent.
      if (!there && (entry.optional || entry.devOptional)) continue;
      if (!there || there.version !== entry.version || there.integrity !== entry.integrity) return false;
    }
    return true;
  } catch {
    return false;
  }
}

/** Installs the packages when they are not there. Says nothing on stdout; on failure one line, and the process ends. */
export async function ensureInstalled() {
  if (isInstalled()) return;
  process.stderr.write("legwright: installing packages, once …\n");
  const { code, output } = await runNpm(["ci", "--no-audit", "--no-fund", "--loglevel=error"]);
  if (code === 0) return;
  const lines = output.split("\n").map((line) => line.replace(/^npm (error|ERR!)\s*/, "").trim());
  const reason =
    lines.find((line) => line && !/^code |^A complete log/.test(line)) ?? `npm ended with code ${code}`;
  stop(
    `the packages could not be installed: ${reason} Check the network to the npm registry, then try again.`,
  );
}

function runNpm(args) {
  // Under npm its own script is known; on Windows a bare "npm" is a batch file that cannot be spawned without a shell.
  const script = process.env.npm_execpath;
  const [command, all] = script?.endsWith(".js") ? [process.execPath, [script, ...args]] : ["npm", args];
  return new Promise((resolve) => {
    const child = spawn(command, all, {
      cwd: APP_FOLDER,
      shell: command === "npm" && process.platform === "win32",
      stdio: ["ignore", "pipe", "pipe"],
      // Nothing may come from anywhere but the package registry.
      env: { ...process.env, PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD: "1", ELECTRON_SKIP_BINARY_DOWNLOAD: "1" },
    });
    let output = "";
    child.stdout.on("data", (chunk) => (output += chunk));
    child.stderr.on("data", (chunk) => (output += chunk));
    child.on("error", (error) => resolve({ code: 1, output: error.message }));
    child.on("close", (code) => resolve({ code: code ?? 1, output }));
  });
}
