/**
 * Asks the worker and waits for its answers; each failure is a Fault. A worker that breaks, or that was ended without a
 * word, is begun again with the map it had open, and what waited is asked once more.
 */
import { Fault } from "../../core/fault.ts";
import { faultWords } from "../words/fault-words.ts";
import type { CallName, FromWorker, Question, ToWorker, WorkerCalls } from "../worker/messages.ts";

/** The part of a Worker that is used: two ends in a test do as well. */
export interface Port {
  postMessage(message: ToWorker): void;
  addEventListener(type: "message", listener: (event: MessageEvent<FromWorker>) => void): void;
  addEventListener(type: "error", listener: () => void): void;
  terminate(): void;
}

export interface WorkerClient {
  /** @param signal aborting it asks the worker to stop and fails the call with "cancelled" */
  ask<N extends CallName>(
    call: N,
    args: Parameters<WorkerCalls[N]>,
    signal?: AbortSignal,
  ): Promise<ReturnType<WorkerCalls[N]>>;
  /** From now on, and for every worker begun again, figures are written by this locale; null is the system's own. */
  writeFiguresOf(locale: string | null): void;
}

export interface ClientOptions {
  /** Called when the worker was begun again. */
  readonly again?: () => void;
  /**
   * So long may nothing at all be heard while something is asked, milliseconds. No single piece of work takes as long: an
   * ended worker says nothing, but a busy one answers between pieces.
   */
  readonly silenceMs?: number;
}

const SILENCE_MS = 15_000;
/** A worker that breaks so often within a minute is not begun again. No source. */
const MOST_STARTS = 3;
const A_WHILE_MS = 60_000;

interface Caller {
  readonly question: Question;
  readonly resolve: (value: unknown) => void;
  readonly reject: (fault: Fault) => void;
  /** Asked again already: a question that ends workers must not do so for ever. */
  again: boolean;
}

export function workerClient(start: () => Port, options: ClientOptions = {}): WorkerClient {
  const { again, silenceMs = SILENCE_MS } = options;
  let lastId = 0;
  let port: Port | null = null;
  /** The map that was opened last, for the next worker. */
  let map: Extract<Question, { call: "openMap" }> | null = null;
  /** The last word on how figures are written, for the next worker. */
  let figures: ToWorker | null = null;
  const waiting = new Map<number, Caller>();
  const starts: number[] = [];
  let heardAt = 0;
  let watching: ReturnType<typeof setInterval> | null = null;

  const send = (message: ToWorker): void => port?.postMessage(message);

  const watch = (): void => {
    watching ??= setInterval(() => {
      if (waiting.size === 0) {
        clearInterval(watching!);
        watching = null;
      } else if (performance.now() - heardAt > silenceMs) broken();
      else send({ ping: true });
    }, silenceMs / 5);
  };

  const begun = (): Port => {
    if (port) return port;
    const own = start();
    port = own;
    heardAt = performance.now();
    own.addEventListener("message", ({ data }) => {
      if (own !== port) return;
      heardAt = performance.now();
      if ("pong" in data) return;
      const caller = waiting.get(data.id);
      if (!caller) return;
      waiting.delete(data.id);
      if (data.ok) caller.resolve(data.value);
      else caller.reject(Fault.fromRecord(data.fault));
    });
    own.addEventListener("error", () => {
      if (own === port) broken();
    });
    if (figures) send(figures);
    return own;
  };

  const broken = (): void => {
    port?.terminate();
    port = null;
    const now = performance.now();
    starts.push(now);
    const often = starts.filter((at) => now - at < A_WHILE_MS).length > MOST_STARTS;
    const stopped = new Fault("internal", faultWords.workerStopped, null, faultWords.workerRemedy);
    for (const [id, caller] of waiting)
      if (often || caller.again) {
        waiting.delete(id);
        caller.reject(stopped);
      }
    if (often) return;
    again?.();
    const left = [...waiting.values()];
    for (const caller of left) caller.again = true;
    const next = begun();
    const resume = (): void => {
      if (next !== port) return;
      for (const { question } of left) if (waiting.has(question.id)) send(question);
    };
    // What is asked counts on the map that was open, unless opening one is itself what waits.
    if (!map || left.some(({ question }) => question.call === "openMap")) return resume();
    const id = ++lastId;
    waiting.set(id, { question: { ...map, id }, resolve: resume, reject: resume, again: true });
    send({ ...map, id });
    watch();
  };

  return {
    writeFiguresOf(locale) {
      figures = { figuresOf: locale };
      send(figures);
    },
    ask<N extends CallName>(call: N, args: Parameters<WorkerCalls[N]>, signal?: AbortSignal) {
      const id = ++lastId;
      return new Promise<ReturnType<WorkerCalls[N]>>((resolve, reject) => {
        if (signal?.aborted) {
          reject(new Fault("cancelled", "Cancelled."));
          return;
        }
        // The pair of name and arguments is one of the questions by construction.
        const question = { id, call, args } as Question;
        if (question.call === "openMap") map = question;
        else if (question.call === "closeMap") map = null;
        if (waiting.size === 0) heardAt = performance.now();
        waiting.set(id, { question, resolve: resolve as (value: unknown) => void, reject, again: false });
        signal?.addEventListener("abort", () => send({ cancel: id }), { once: true });
        begun();
        send(question);
        watch();
      });
    },
  };
}
