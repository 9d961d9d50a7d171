/** Runs the worker's calls: each question once, cancellable, every failure a fault record. */
import { Fault } from "../../core/fault.ts";
import { localeStyle, writeFiguresBy } from "../../core/units/figure-style.ts";
import type { CallName, FromWorker, Question, ToWorker, WorkerCalls } from "./messages.ts";

/** The calls as the worker implements them: asynchronous, with a signal to stop early. */
export type Handlers = {
  readonly [N in CallName]: (
    signal: AbortSignal,
    ...args: Parameters<WorkerCalls[N]>
  ) => Promise<ReturnType<WorkerCalls[N]>>;
};

/**
 * @param handlers the calls
 * @param post sends an answer back
 * @returns takes one message from the window
 */
export function dispatcher(
  handlers: Handlers,
  post: (message: FromWorker) => void,
): (message: ToWorker) => void {
  const running = new Map<number, AbortController>();

  const answer = async (message: Question): Promise<void> => {
    const { id, call, args } = message;
    const controller = new AbortController();
    running.set(id, controller);
    try {
      const handler = handlers[call] as (
        signal: AbortSignal,
        ...args: readonly unknown[]
      ) => Promise<unknown>;
      const value = await handler(controller.signal, ...args);
      if (controller.signal.aborted) throw new Fault("cancelled", "Cancelled.");
      post({ id, ok: true, value });
    } catch (thrown) {
      const fault = controller.signal.aborted ? new Fault("cancelled", "Cancelled.") : Fault.from(thrown);
      post({ id, ok: false, fault: fault.toRecord() });
    } finally {
      running.delete(id);
    }
  };

  return (message) => {
    if ("ping" in message) post({ pong: true });
    else if ("figuresOf" in message) {
      const style = localeStyle(message.figuresOf ?? undefined);
      writeFiguresBy(() => style);
    } else if ("cancel" in message) running.get(message.cancel)?.abort();
    else void answer(message);
  };
}
