/** The one worker of this window. */
import { say } from "../app/notices.ts";
import { faultWords } from "../words/fault-words.ts";
import { workerClient } from "./worker-client.ts";

export const worker = workerClient(
  () => new Worker(new URL("../worker/worker.ts", import.meta.url), { type: "module", name: "legwright" }),
  { again: () => say(faultWords.workerAgain) },
);
