/** The thread that reads people's files and makes maps, so that the host goes on answering. One task, then it ends. */
import { parentPort } from "node:worker_threads";
import { Fault } from "../../core/fault.ts";
import type { MakeOptions } from "../../core/mapmaking/pace.ts";
import type { FromJob, Task, TaskResults, ToJob } from "./map-jobs-messages.ts";
import { lookAtElevation, lookAtFeatures, surveyElevation } from "./map-making/look-at-files.ts";
import { makeMapFromFiles } from "./map-making/make-from-files.ts";

const say = (message: FromJob): void => parentPort?.postMessage(message, []);
const stop = new AbortController();

async function run(task: Task, working: MakeOptions): Promise<TaskResults[keyof TaskResults]> {
  switch (task.kind) {
    case "look":
      return task.as === "elevation"
        ? await lookAtElevation(task.path, task.crs)
        : await lookAtFeatures(task.path, task.crs, working);
    case "survey":
      return await surveyElevation(task.order.elevation, task.order, working);
    case "make": {
      let notes: readonly string[] = [];
      await makeMapFromFiles(task.order, task.into, working, { notes: (said) => (notes = said) });
      return { notes };
    }
  }
}

parentPort?.on("message", (message: ToJob) => {
  if ("cancel" in message) return stop.abort();
  run(message.task, { signal: stop.signal, progress: (progress) => say({ progress }) })
    .then(
      (result) => say({ result }),
      (thrown: unknown) => say({ fault: Fault.from(thrown).toRecord() }),
    )
    .finally(() => parentPort?.close());
});
