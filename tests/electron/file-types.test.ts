/** What systems are told about the program's files, read by what reads it there. */
import { execFileSync, spawnSync } from "node:child_process";
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { FILE_TYPES } from "../../electron/packaging/file-types.ts";
import { findApp } from "../../electron/services/app-folder.ts";

let folder = "";
const PROGRAM = "/opt/Leg wright/legwright";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "legwright-types-"));
  const { folder: app } = findApp();
  const script = join(app, "electron/packaging/write-file-types.ts");
  execFileSync(process.execPath, ["--import", "tsx", script, folder, PROGRAM], { cwd: app });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const read = (name: string): string => readFileSync(join(folder, name), "utf8");
const isThere = (program: string, ...args: string[]): boolean => spawnSync(program, args).error === undefined;
const missing = (program: string, there: boolean): string =>
  there ? "" : ` (skipped: ${program} is not on this computer)`;

const mime = isThere("update-mime-database", "-v");
describe.skipIf(!mime)(`on a free desktop${missing("update-mime-database", mime)}`, () => {
  // update-mime-database of shared-mime-info makes the database from packages, by the Shared MIME-info specification.
  it("the types are known by their endings, the longer ending first, and by how archives begin", () => {
    const database = join(folder, "mime");
    mkdirSync(join(database, "packages"), { recursive: true });
    copyFileSync(join(folder, "legwright.xml"), join(database, "packages/legwright.xml"));
    execFileSync("update-mime-database", [database], { stdio: "ignore" });
    const lines = (name: string): string[] => readFileSync(join(database, name), "utf8").trim().split("\n");
    const globs = lines("globs2").filter((line) => !line.startsWith("#"));
    expect(globs.toSorted()).toEqual([
      "50:application/vnd.pmtiles:*.pmtiles",
      "50:application/x-legwright-walk+json:*.walk.geojson",
    ]);
    expect(lines("subclasses")).toEqual(["application/x-legwright-walk+json application/geo+json"]);
    expect(readFileSync(join(database, "magic"), "latin1")).toContain("PMTiles");
    expect(existsSync(join(database, "application/vnd.pmtiles.xml"))).toBe(true);
  });
});

const validator = isThere("desktop-file-validate", "--help");
describe("the desktop entry", () => {
  it.skipIf(!validator)(`is valid${missing("desktop-file-validate", validator)}`, () => {
    expect(spawnSync("desktop-file-validate", [join(folder, "legwright.desktop")], { encoding: "utf8" })).toMatchObject({
      status: 0,
      stdout: "",
    });
  }); // prettier-ignore
  // Desktop Entry Specification 1.5: one group first, each key once; Exec quotes a path with a space; %F takes several files.
  it("opens all types, with the files as arguments", () => {
    const [group, ...rows] = read("legwright.desktop").trim().split("\n");
    expect(group).toBe("[Desktop Entry]");
    const entries = rows.map((row) => /^([A-Za-z]+)=(.*)$/.exec(row)!.slice(1) as [string, string]);
    const values = new Map(entries);
    expect(values.size).toBe(entries.length);
    expect(values.get("Exec")).toBe(`"${PROGRAM}" %F`);
    expect(values.get("MimeType")!.split(";").filter(Boolean)).toEqual(FILE_TYPES.map(({ mediaType }) => mediaType));
    expect([values.get("Type"), values.get("Name")]).toEqual(["Application", "Legwright"]);
  }); // prettier-ignore
});

const python = isThere("python3", "--version");
describe.skipIf(!python)(`on a Mac, as read by Python's plistlib${missing("python3", python)}`, () => {
  it("the types are offered beside the programs that have them", () => {
    const script = "import json,plistlib,sys; print(json.dumps(plistlib.load(open(sys.argv[1],'rb'))))";
    const { CFBundleDocumentTypes: types } = JSON.parse(
      execFileSync("python3", ["-c", script, join(folder, "Info.plist")], { encoding: "utf8" }),
    ) as { CFBundleDocumentTypes: Record<string, unknown>[] };
    expect(types.map((one) => one["CFBundleTypeExtensions"])).toEqual([["geojson"], ["pmtiles"]]);
    for (const one of types) expect(one["LSHandlerRank"]).toBe("Alternate");
  });
});

describe("on Windows", () => {
  // Microsoft, "File Types and File Associations": a ProgID with shell\open\command, named by the ending's OpenWithProgids.
  it("the types are offered beside the programs that have them, never taken over", () => {
    const text = readFileSync(join(folder, "legwright.reg"), "utf16le");
    expect(text.startsWith("\uFEFFWindows Registry Editor Version 5.00\r\n")).toBe(true);
    for (const ending of ["geojson", "pmtiles"]) {
      expect(text).toContain(`[HKEY_CURRENT_USER\\Software\\Classes\\.${ending}\\OpenWithProgids]`);
      expect(text).not.toContain(`[HKEY_CURRENT_USER\\Software\\Classes\\.${ending}]`);
    }
    expect(text).toContain(`@="\\"${PROGRAM}\\" \\"%1\\""`);
  });
});
