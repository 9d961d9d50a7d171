/** Asks the worker and waits for its answers; each failure is a Fault. */
import { Fault } from "../../core/fault.ts";
import type { CallName, FromWorker, ToWorker, WorkerCalls } from "../worker/messages.ts";

/** The part of a Worker that is used: two ends in a test do as well. */
export interface Port {
  postMessage(message: ToWorker): void;
  addEventListener(type: "message", listener: (event: MessageEvent<FromWorker>) => void): void;
  addEventListener(type: "error", listener: () => void): void;
}

export interface WorkerClient {
  /** @param signal aborting it asks the worker to stop and fails the call with "cancelled" */
  ask<N extends CallName>(
    call: N,
    args: Parameters<WorkerCalls[N]>,
    signal?: AbortSignal,
  ): Promise<ReturnType<WorkerCalls[N]>>;
}

export function workerClient(port: Port): WorkerClient {
  let lastId = 0;
  const waiting = new Map<number, { resolve: (value: unknown) => void; reject: (fault: Fault) => void }>();

  port.addEventListener("message", ({ data }) => {
    const caller = waiting.get(data.id);
    if (!caller) return;
    waiting.delete(data.id);
    if (data.ok) caller.resolve(data.value);
    else caller.reject(Fault.fromRecord(data.fault));
  });
  // The worker itself broke, or could not be loaded: nothing that waits will be answered.
  port.addEventListener("error", () => {
    const broken = new Fault(
      "internal",
      "Working out the figures stopped.",
      null,
      "Save the walk, then load the window again.",
    );
    for (const caller of waiting.values()) caller.reject(broken);
    waiting.clear();
  });

  return {
    ask<N extends CallName>(call: N, args: Parameters<WorkerCalls[N]>, signal?: AbortSignal) {
      const id = ++lastId;
      return new Promise<ReturnType<WorkerCalls[N]>>((resolve, reject) => {
        if (signal?.aborted) {
          reject(new Fault("cancelled", "Cancelled."));
          return;
        }
        waiting.set(id, { resolve: resolve as (value: unknown) => void, reject });
        signal?.addEventListener("abort", () => port.postMessage({ cancel: id }), { once: true });
        // The pair of name and arguments is one of the questions by construction.
        port.postMessage({ id, call, args } as ToWorker);
      });
    },
  };
}
