/** The one worker of this window. */
import { workerClient } from "./worker-client.ts";

export const worker = workerClient(
  new Worker(new URL("../worker/worker.ts", import.meta.url), { type: "module", name: "legwright" }),
);
