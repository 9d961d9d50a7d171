/**
 * `npm test`: sets up what the tests need, then checks types, style and build, and runs the unit and the end-to-end
 * tests. `--unit` and `--e2e` run a part. Its last line is "N passed, N failed", with ", N skipped" when some were.
 */
import { spawn, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { APP_FOLDER, checkNode, stop } from "../electron/launch/app-folder.mjs";
import { ensureBuilt } from "../electron/launch/ensure-built.mjs";
import { ensureInstalled } from "../electron/launch/ensure-installed.mjs";
import { CHROMIUM_REMEDY, findChromium } from "../electron/launch/find-chromium.mjs";

/** Programs whose answers some tests compare with; those tests are skipped where they are missing. */
const WITNESSES = [
  { program: "gdalinfo", package: "gdal-bin" },
  { program: "GeodSolve", package: "geographiclib-tools" },
  { program: "pdftotext", package: "poppler-utils" },
  { program: "mutool", package: "mupdf-tools" },
];

const flags = new Set(process.argv.slice(2));
for (const flag of flags)
  if (flag !== "--unit" && flag !== "--e2e") stop(`there is no ${flag}: only --unit and --e2e`, 2);
const whole = flags.size === 0;
const wants = (part) => whole || flags.has(`--${part}`);

// No test may fetch a browser: the installed one is used.
process.env.PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD = "1";
// What a person has set for their own use is not what is tested.
for (const name of ["LEGWRIGHT_WALKS", "LEGWRIGHT_SETTINGS"]) delete process.env[name];

checkNode();
await ensureInstalled();
installPrograms();
const results = { passed: 0, failed: 0, skipped: 0 };

if (whole) {
  await check("types", "npm", ["run", "-s", "typecheck"]);
  await check("style", "npm", ["run", "-s", "lint"]);
}
await ensureBuilt(["shell", "window"]);
if (wants("unit")) await tests("unit");
if (wants("e2e")) await tests("e2e");

const { passed, failed, skipped } = results;
process.stdout.write(`${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ""}\n`);
process.exitCode = failed > 0 || passed === 0 ? 1 : 0;

/** Installs what is missing where that can be done, and says what cannot be had. */
function installPrograms() {
  const missing = WITNESSES.filter(({ program }) => !onPath(program)).map((witness) => witness.package);
  const needsShapely =
    spawnSync("/usr/bin/python3", ["-c", "import shapely"], { stdio: "ignore" }).status !== 0;
  if (needsShapely) missing.push("python3-shapely");
  const needsChromium = wants("e2e") && findChromium() === null && !process.env.CHROMIUM_PATH;
  if (
    existsSync("/etc/debian_version") &&
    process.getuid?.() === 0 &&
    (needsChromium || missing.length > 0)
  ) {
    const packages = [...(needsChromium ? ["chromium"] : []), ...missing];
    process.stdout.write(`Installing ${packages.join(", ")} …\n`);
    apt(["update"]);
    // One by one when all together fail: a missing witness must not keep the browser away.
    if (!apt(["install", ...packages])) for (const name of packages) apt(["install", name]);
  }
  for (const { program, package: name } of WITNESSES) {
    if (!onPath(program))
      process.stdout.write(`Skipping what needs ${program}: it is in the package ${name}.\n`);
  }
  if (wants("e2e") && findChromium() === null) {
    stop(`the end-to-end tests need Chromium. ${CHROMIUM_REMEDY}`);
  }
}

function apt(args) {
  const { status } = spawnSync("apt-get", ["-q", "-y", "--no-install-recommends", ...args], {
    stdio: ["ignore", "ignore", "inherit"],
    env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
  });
  return status === 0;
}

function onPath(program) {
  return (process.env.PATH ?? "")
    .split(":")
    .some((folder) => folder !== "" && existsSync(join(folder, program)));
}

/** Types and style count as one check each. */
async function check(name, command, args) {
  process.stdout.write(`\n— ${name}\n`);
  const code = await execute(command, args);
  if (code === 0) results.passed++;
  else results.failed++;
}

async function tests(project) {
  process.stdout.write(`\n— ${project} tests\n`);
  const folder = mkdtempSync(join(tmpdir(), "legwright-tests-"));
  const report = join(folder, "report.json");
  try {
    const vitest = join(APP_FOLDER, "node_modules/vitest/vitest.mjs");
    const args = [vitest, "run", "--config", "tests/vitest.config.ts", "--project", project];
    const code = await execute(process.execPath, [
      ...args,
      "--reporter=default",
      "--reporter=json",
      `--outputFile.json=${report}`,
    ]);
    count(code, report);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Adds what the report says. A run that fell over counts as a failure even when none of its tests failed. */
function count(code, path) {
  let report = null;
  try {
    report = JSON.parse(readFileSync(path, "utf8"));
  } catch {
    // Said below: without a report nothing is known to have passed.
  }
  const failed = report?.numFailedTests ?? 0;
  results.passed += report?.numPassedTests ?? 0;
  results.failed += failed;
  results.skipped += (report?.numPendingTests ?? 0) + (report?.numTodoTests ?? 0);
  if (failed === 0 && (code !== 0 || report === null)) {
    process.stdout.write("The run itself failed: see above.\n");
    results.failed++;
  }
}

function execute(command, args) {
  return new Promise((resolve) => {
    const child = spawn(command, args, {
      cwd: APP_FOLDER,
      stdio: ["ignore", "inherit", "inherit"],
      shell: process.platform === "win32" && command === "npm",
    });
    child.on("error", () => resolve(1));
    child.on("close", (code) => resolve(code ?? 1));
  });
}
