import { stat } from "node:fs/promises";
import { basename, dirname, resolve } from "node:path";
import { Fault } from "../../core/fault.ts";
import { saveAtomically } from "../services/atomic-save.ts";

/** Puts a command's product where it was asked for: into a file, whole or not at all, or onto stdout. */
export async function deliver(product: string | Uint8Array, out: string | undefined): Promise<void> {
  if (out !== undefined) return await saveAtomically(resolve(out), product);
  if (typeof product !== "string" && process.stdout.isTTY) {
    throw new Fault(
      "bad-argument",
      "This product is not text for a terminal.",
      null,
      "Name a file with --out.",
    );
  }
  await new Promise<void>((done, fail) => {
    process.stdout.once("error", (error: NodeJS.ErrnoException) => {
      // A reader that has seen enough, as in `| head`, is no failure.
      if (error.code === "EPIPE") done();
      else fail(error);
    });
    process.stdout.write(product, () => done());
  });
}

/**
 * Says before long work what would fail after it.
 * @throws Fault "no-file" when the folder of a file to be written is not there
 */
export async function checkFolderOf(out: string): Promise<void> {
  const folder = dirname(resolve(out));
  const there = await stat(folder).then(
    (found) => found.isDirectory(),
    () => false,
  );
  if (!there)
    throw new Fault(
      "no-file",
      "The folder to write to is not there.",
      basename(folder),
      "Make it first, or name another.",
    );
}
