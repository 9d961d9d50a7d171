import { Worker } from "node:worker_threads";
import { Fault } from "../../../core/fault.ts";
import { builtWorker } from "../built-worker.ts";
import type { FromPress, PressCall, PressCalls, ToPress } from "./press-messages.ts";

type Told = (done: number, all: number) => void;

export interface Press {
  /** @throws Fault of the thread; "cancelled" when the signal is aborted */
  ask<C extends PressCall>(
    call: C,
    args: Parameters<PressCalls[C]>,
    options?: { readonly signal?: AbortSignal; readonly told?: Told },
  ): Promise<ReturnType<PressCalls[C]>>;
  close(): Promise<void>;
}

interface Waiting {
  resolve(value: unknown): void;
  reject(fault: Fault): void;
  readonly told: Told | undefined;
}

/** The thread that draws pages: started with the first question, and anew after it failed. */
export function openPress(): Press {
  let worker: Worker | null = null;
  let last = 0;
  const waiting = new Map<number, Waiting>();

  /** A host with nothing else to do may end while nothing is asked. */
  const taken = (ask: number, by: Worker): boolean => {
    const was = waiting.delete(ask);
    if (waiting.size === 0) by.unref();
    return was;
  };
  const start = (): Worker => {
    const fresh = new Worker(builtWorker("press-worker"), { execArgv: [] });
    const lost = (fault: Fault): void => {
      if (worker === fresh) worker = null;
      for (const asked of waiting.values()) asked.reject(fault);
      waiting.clear();
    };
    fresh.on("message", (message: FromPress) => {
      const asked = waiting.get(message.ask);
      if (!asked) return;
      if ("all" in message) return asked.told?.(message.done, message.all);
      taken(message.ask, fresh);
      if ("fault" in message) asked.reject(Fault.fromRecord(message.fault));
      else asked.resolve(message.value);
    });
    fresh.on("error", (error) => lost(Fault.from(error)));
    fresh.on("exit", () =>
      lost(new Fault("internal", "Drawing the pages came to an end.", null, "Try again.")),
    );
    return fresh;
  };

  return {
    ask<C extends PressCall>(
      call: C,
      args: Parameters<PressCalls[C]>,
      { signal, told }: { readonly signal?: AbortSignal; readonly told?: Told } = {},
    ) {
      const ask = ++last;
      const cancelled = (): Fault => new Fault("cancelled", "Drawing the pages was cancelled.");
      if (signal?.aborted) return Promise.reject(cancelled());
      worker ??= start();
      const to = worker;
      return new Promise<ReturnType<PressCalls[C]>>((resolve, reject) => {
        const stop = (): void => {
          if (!taken(ask, to)) return;
          to.postMessage({ cancel: ask } satisfies ToPress, []);
          reject(cancelled());
        };
        signal?.addEventListener("abort", stop, { once: true });
        const settle = (): void => signal?.removeEventListener("abort", stop);
        waiting.set(ask, {
          resolve: (value) => {
            settle();
            resolve(value as ReturnType<PressCalls[C]>);
          },
          reject: (fault) => {
            settle();
            reject(fault);
          },
          told,
        });
        to.ref();
        to.postMessage({ ask, call, args }, []);
      });
    },
    async close() {
      const ending = worker;
      worker = null;
      await ending?.terminate();
    },
  };
}
