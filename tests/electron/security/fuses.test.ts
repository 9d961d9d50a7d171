/**
 * The packaging step on a file with a fuse wire such as Electron 45 has, read back by Electron's own reader and byte by byte.
 * Source of the wire: Electron's documentation, "Electron Fuses", "The hard way": a sentinel, a byte for the version, one for
 * the length, then "0" disabled, "1" enabled, "r" removed, "\x90" left to Electron, for each.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { FuseState, FuseV1Options, getCurrentFuseWire } from "@electron/fuses";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { FUSES } from "../../../electron/packaging/fuses.ts";

const SENTINEL = "dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX";
const HARDEN = fileURLToPath(new URL("../../../electron/packaging/harden.ts", import.meta.url));

let folder = "";
beforeAll(() => void (folder = mkdtempSync(join(tmpdir(), "legwright-fuses-"))));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function program(name: string, wire: string): string {
  const path = join(folder, name);
  const rest = Buffer.alloc(4096, 7);
  writeFileSync(
    path,
    Buffer.concat([rest, Buffer.from(SENTINEL), Buffer.of(1, wire.length), Buffer.from(wire), rest]),
  );
  return path;
}
const harden = (path: string): { status: number | null; text: string } => {
  const { status, stdout, stderr } = spawnSync(process.execPath, ["--import", "tsx", HARDEN, path], {
    encoding: "utf8",
  });
  return { status, text: stdout + stderr };
};

const WANTED = {
  RunAsNode: false,
  EnableCookieEncryption: true,
  EnableNodeOptionsEnvironmentVariable: false,
  EnableNodeCliInspectArguments: false,
  EnableEmbeddedAsarIntegrityValidation: true,
  OnlyLoadAppFromAsar: true,
  LoadBrowserProcessSpecificV8Snapshot: false,
  GrantFileProtocolExtraPrivileges: false,
  WasmTrapHandlers: true,
} as const;

describe("fuses of the packaged program", () => {
  it("names every fuse there is", () => {
    const all = Object.keys(FuseV1Options).filter((key) => !/^\d+$/.test(key));
    expect(Object.keys(WANTED).sort()).toEqual(all.sort());
    for (const [name, value] of Object.entries(WANTED))
      expect(FUSES[FuseV1Options[name as keyof typeof WANTED]], name).toBe(value);
  });

  it("are each as wanted after the step", async () => {
    // As Electron ships: run as Node, options and inspection on, file: privileges on.
    const path = program("legwright", "101100011");
    expect(harden(path)).toMatchObject({ status: 0 });
    const wire = (await getCurrentFuseWire(path)) as unknown as Record<number, FuseState>;
    for (const [name, value] of Object.entries(WANTED))
      expect(wire[FuseV1Options[name as keyof typeof WANTED]], name).toBe(
        value ? FuseState.ENABLE : FuseState.DISABLE,
      );
    const bytes = readFileSync(path, "latin1");
    expect(bytes.slice(bytes.indexOf(SENTINEL) + SENTINEL.length + 2).slice(0, 9)).toBe("010011001");
  }, 60_000);

  it("stops the packaging where Electron has a fuse that nobody decided on, or where there are none", () => {
    expect(harden(program("newer", "1011000111"))).toMatchObject({ status: 1 });
    const path = join(folder, "other");
    writeFileSync(path, "no program");
    expect(harden(path)).toMatchObject({ status: 1 });
  }, 60_000);
});
