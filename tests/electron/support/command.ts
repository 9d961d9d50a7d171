/** The command line as a person runs it: a process, with folders of its own. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect } from "vitest";

const LEGWRIGHT = fileURLToPath(new URL("../../../electron/launch/legwright.mjs", import.meta.url));

export interface Ran {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export class CommandLine {
  readonly folder = mkdtempSync(join(tmpdir(), "legwright-cli-"));

  run(args: readonly string[], input = ""): Ran {
    const { status, stdout, stderr } = spawnSync(process.execPath, [LEGWRIGHT, ...args], {
      cwd: this.folder,
      encoding: "utf8",
      input,
      maxBuffer: 1 << 26,
      env: {
        ...process.env,
        LEGWRIGHT_WALKS: join(this.folder, "walks"),
        LEGWRIGHT_SETTINGS: join(this.folder, "settings"),
      },
    });
    // Said when a test runs on sources changed since the last build.
    return { code: status, stdout, stderr: stderr.replace(/^legwright: building .*\n/gm, "") };
  }

  /** What a command that must succeed writes. */
  says(args: readonly string[], input = ""): string {
    const { code, stdout, stderr } = this.run(args, input);
    expect(code, stderr).toBe(0);
    return stdout;
  }

  /** A failure: its code, nothing on stdout, one line on stderr with no trace of the code; returns that line. */
  fails(code: number, args: readonly string[], input = ""): string {
    const ran = this.run(args, input);
    expect(ran, ran.stderr).toMatchObject({ code, stdout: "" });
    const lines = ran.stderr
      .trimEnd()
      .split("\n")
      .filter((line) => line.startsWith("legwright: ") && !line.startsWith("legwright: note: "));
    expect(lines).toHaveLength(1);
    expect(ran.stderr).not.toMatch(/\bat .*:\d+:\d+|Error:|not foreseen/);
    return lines[0] as string;
  }

  remove(): void {
    rmSync(this.folder, { recursive: true, force: true });
  }
}
