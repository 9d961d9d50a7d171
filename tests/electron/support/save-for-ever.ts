/** Saves over and over until it is killed; each content says at its end what it said at its start. */
import { saveAtomically } from "../../../electron/services/atomic-save.ts";

const path = process.argv[2];
if (!path) throw new Error("needs a path");
for (let n = 0; ; n++) {
  await saveAtomically(path, JSON.stringify({ n, filler: "x".repeat(200_000), end: n }));
  if (n === 0) process.stdout.write("saving\n");
}
