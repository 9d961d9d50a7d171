import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import { Fault, type FaultRecord } from "../../../core/fault.ts";
import type { Crew } from "../../../core/mapmaking/crew.ts";
import { builtWorker } from "../built-worker.ts";
import { nodeCodecs } from "./node-codecs.ts";
import type { Piece, ResultOf, Results, Setup } from "../../../core/mapmaking/pieces.ts";

export type ToWorker =
  | { readonly setup: Setup; readonly fds: CrewFiles }
  | { readonly setup?: undefined; readonly piece: Piece };
/** Files that pieces are made from: descriptors, good in all threads of the process. */
export interface CrewFiles {
  readonly heights: number;
  readonly features: number;
}

export interface FromWorker {
  readonly result?: Results[keyof Results];
  readonly fault?: FaultRecord;
  /** Share done of the piece, which goes on. */
  readonly told?: number;
}

export interface HiredCrew extends Crew {
  /** Ends the threads, whatever they are at. */
  dismiss(): Promise<void>;
}

/** More threads than this would want more memory than they bring speed. */
const MOST_WORKERS = 8;

interface Post {
  readonly worker: Worker;
  settle: {
    resolve(result: unknown): void;
    reject(fault: Fault): void;
    readonly told: ((done: number) => void) | undefined;
  } | null;
}

/**
 * Threads that take pieces of a map, one for each processor.
 * @param signal ends all work with Fault "cancelled"
 */
export function hireCrew(setup: Setup, fds: CrewFiles, signal?: AbortSignal): HiredCrew {
  const url = builtWorker("map-worker");
  const size = Math.max(1, Math.min(MOST_WORKERS, availableParallelism()));
  const waiting: ((post: Post) => void)[] = [];
  const idle: Post[] = [];
  let failed: Fault | null = null;
  const fail = (fault: Fault): void => {
    failed ??= fault;
    for (const { settle } of posts) settle?.reject(failed);
    for (const wake of waiting.splice(0)) wake(posts[0]!);
  };
  const free = (post: Post): void => {
    post.settle = null;
    const next = waiting.shift();
    if (next) next(post);
    else idle.push(post);
  };
  const posts = Array.from({ length: size }, (): Post => {
    const worker = new Worker(url, { execArgv: [], resourceLimits: { maxYoungGenerationSizeMb: 24 } });
    const post: Post = { worker, settle: null };
    worker.on("message", ({ result, fault, told }: FromWorker) => {
      const { settle } = post;
      if (told !== undefined) {
        settle?.told?.(told);
        return;
      }
      free(post);
      if (fault) settle?.reject(Fault.fromRecord(fault));
      else settle?.resolve(result);
    });
    worker.on("error", (error) => fail(Fault.from(error)));
    worker.postMessage({ setup, fds } satisfies ToWorker, []);
    idle.push(post);
    return post;
  });
  const stop = (): void => fail(new Fault("cancelled", "Making the map was cancelled."));
  signal?.addEventListener("abort", stop, { once: true });
  if (signal?.aborted) stop();

  return {
    size,
    codecs: nodeCodecs,
    async run<P extends Piece>(piece: P, told?: (done: number) => void): Promise<ResultOf<P>> {
      const post = idle.pop() ?? (failed ? posts[0]! : await new Promise<Post>((wake) => waiting.push(wake)));
      if (failed) throw failed;
      return await new Promise<ResultOf<P>>((resolve, reject) => {
        post.settle = { resolve: (result) => resolve(result as ResultOf<P>), reject, told };
        post.worker.postMessage({ piece } satisfies ToWorker, []);
      });
    },
    async dismiss() {
      signal?.removeEventListener("abort", stop);
      await Promise.all(posts.map(({ worker }) => worker.terminate()));
    },
  };
}
