/** Maps in the making. One at a time: it takes all processors. */
import { randomUUID } from "node:crypto";
import { access, mkdir } from "node:fs/promises";
import { join } from "node:path";
import { Worker } from "node:worker_threads";
import { Fault, type FaultRecord } from "../../core/fault.ts";
import type { Progress } from "../../core/mapmaking/pace.ts";
import type { DataKind, DataLook, ElevationSurvey, MakingState, MapEntry, MapOrder } from "../contract.ts";
import { builtWorker } from "./built-worker.ts";
import { fileFault } from "./file-faults.ts";
import { bareName, suggestName } from "./file-name.ts";
import type { FilesOrder } from "./map-making/make-from-files.ts";
import type { FromJob, Task, TaskResults, ToJob } from "./map-jobs-messages.ts";

export interface MapJobsDeps {
  /** Where maps are made, and always in the case. */
  readonly folder: string;
  /** Where a file lies that the person picked. @throws Fault */
  readonly pathOf: (fileId: string) => string;
  readonly add: (path: string) => Promise<MapEntry>;
}

interface Job {
  readonly stop: AbortController;
  progress: Progress;
  entry: MapEntry | null;
  notes: readonly string[];
  fault: FaultRecord | null;
  ended: Promise<void>;
}

/** Finished jobs that are still told of. */
const KEPT = 8;

export class MapJobs {
  readonly #jobs = new Map<string, Job>();
  readonly #looks = new Set<AbortController>();

  constructor(private readonly deps: MapJobsDeps) {}

  get isMaking(): boolean {
    return [...this.#jobs.values()].some(({ entry, fault }) => !entry && !fault);
  }

  /** @throws Fault of the file */
  async look(fileId: string, as: DataKind, crs: string | null): Promise<DataLook> {
    return await this.#quick({ kind: "look", path: this.deps.pathOf(fileId), as, crs: crs ?? undefined });
  }

  async survey(
    order: Pick<MapOrder, "elevation" | "crs" | "heightUnit" | "bounds">,
  ): Promise<ElevationSurvey> {
    return await this.#quick({
      kind: "survey",
      order: {
        elevation: order.elevation.map(this.deps.pathOf),
        crs: order.crs ?? undefined,
        heightUnit: order.heightUnit ?? undefined,
        bounds: order.bounds ?? undefined,
      },
    });
  }

  async #quick<T extends Task>(task: T): Promise<TaskResults[T["kind"]]> {
    const stop = new AbortController();
    this.#looks.add(stop);
    try {
      return await runTask(task, stop.signal, () => undefined);
    } finally {
      this.#looks.delete(stop);
    }
  }

  /** @returns the job's key @throws Fault "unavailable" while another map is being made; "bad-argument" for no title */
  async start(order: MapOrder): Promise<string> {
    if (this.isMaking)
      throw new Fault("unavailable", "A map is being made already.", null, "Wait for it, or stop it.");
    if (order.title.trim() === "")
      throw new Fault("bad-argument", "The map needs a title.", "title", "Give it one.");
    const files = {
      elevation: order.elevation.map(this.deps.pathOf),
      features: order.features.map(this.deps.pathOf),
    };
    const key = randomUUID();
    const job: Job = {
      stop: new AbortController(),
      progress: { stage: "Starting", done: 0, leftS: null },
      entry: null,
      notes: [],
      fault: null,
      ended: Promise.resolve(),
    };
    job.ended = this.#make(job, order, files).catch((thrown: unknown) => {
      job.fault = Fault.from(thrown).toRecord();
    });
    this.#jobs.set(key, job);
    for (const old of [...this.#jobs.keys()].slice(0, -KEPT)) this.#jobs.delete(old);
    return key;
  }

  async #make(job: Job, order: MapOrder, files: Pick<FilesOrder, "elevation" | "features">): Promise<void> {
    const path = await freeName(this.deps.folder, order.title);
    const given = <T>(value: T | null): T | undefined => value ?? undefined;
    const { notes } = await runTask(
      {
        kind: "make",
        order: {
          ...files,
          title: order.title.trim(),
          interval: order.interval ?? "auto",
          attribution: given(order.attribution),
          crs: given(order.crs),
          heightUnit: given(order.heightUnit),
          bounds: given(order.bounds),
          fillVoids: given(order.fillVoids),
          featuresCrs: given(order.featuresCrs),
          // What is wanted is derived where the files have none of it; the rest never.
          derive: Object.fromEntries(
            Object.entries(order.derive).flatMap(([what, wanted]) => (wanted ? [] : [[what, false]])),
          ),
        },
        into: { path, terrainPath: path.replace(/\.pmtiles$/, ".terrain.pmtiles") },
      },
      job.stop.signal,
      (progress) => (job.progress = progress),
    );
    job.notes = notes;
    job.entry = await this.deps.add(path);
  }

  state(key: string): MakingState {
    const { progress, entry, notes, fault } = this.#find(key);
    return { ...progress, entry, notes, fault };
  }

  /** Ends a job, and waits until nothing of it is left. */
  async cancel(key: string): Promise<void> {
    const job = this.#find(key);
    job.stop.abort();
    await job.ended;
  }

  async close(): Promise<void> {
    for (const look of this.#looks) look.abort();
    for (const { stop } of this.#jobs.values()) stop.abort();
    await Promise.all([...this.#jobs.values()].map(({ ended }) => ended));
  }

  #find(key: string): Job {
    const job = this.#jobs.get(key);
    if (!job) throw new Fault("bad-argument", "No such map is being made.", null, "Begin anew.");
    return job;
  }
}

/** A name in the folder that nothing has yet: "Title.pmtiles", else "Title 2.pmtiles" … */
async function freeName(folder: string, title: string): Promise<string> {
  await mkdir(folder, { recursive: true }).catch((error: unknown) => {
    throw fileFault(error, folder, "could not be made");
  });
  const stem = suggestName(title);
  const taken = (path: string): Promise<boolean> =>
    access(path).then(
      () => true,
      () => false,
    );
  for (let n = 1; ; n++) {
    const name = bareName(`${stem}${n === 1 ? "" : ` ${n}`}`);
    const path = join(folder, `${name}.pmtiles`);
    if (!(await taken(path)) && !(await taken(join(folder, `${name}.terrain.pmtiles`)))) return path;
  }
}

/** Runs a task in a thread of its own. @throws Fault of the task */
function runTask<T extends Task>(
  task: T,
  signal: AbortSignal,
  told: (progress: Progress) => void,
): Promise<TaskResults[T["kind"]]> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(builtWorker("map-jobs-worker"), { execArgv: [] });
    const stop = (): void => worker.postMessage({ cancel: true } satisfies ToJob, []);
    worker.on("message", (message: FromJob) => {
      if ("progress" in message) told(message.progress);
      else if ("fault" in message) reject(Fault.fromRecord(message.fault));
      else resolve(message.result as TaskResults[T["kind"]]);
    });
    worker.on("error", (error) => reject(Fault.from(error)));
    worker.on("exit", () => {
      signal.removeEventListener("abort", stop);
      reject(new Fault("internal", "Making the map came to an end.", null, "Try again."));
    });
    worker.postMessage({ task } satisfies ToJob, []);
    signal.addEventListener("abort", stop, { once: true });
    if (signal.aborted) stop();
  });
}
