/**
 * Keeps a slow question in step with something that changes fast: never more than one in flight; of those that come
 * meanwhile only the newest is asked. One that has run for long is given up when a newer one waits.
 */
import { Fault } from "../../core/fault.ts";

export interface NewestWins<A> {
  ask(question: A): void;
  /** Gives up what runs and forgets what waits. */
  stop(): void;
}

export interface NewestWinsOptions<A, R> {
  readonly run: (question: A, signal: AbortSignal) => Promise<R>;
  readonly answered: (answer: R, question: A) => void;
  /** Not called for what was given up. */
  readonly failed: (fault: Fault, question: A) => void;
  /** How long one may run while a newer waits, milliseconds. */
  readonly patienceMs?: number;
}

export function newestWins<A, R>({
  run,
  answered,
  failed,
  patienceMs = 2_000,
}: NewestWinsOptions<A, R>): NewestWins<A> {
  let waiting: { question: A } | null = null;
  let inFlight: AbortController | null = null;
  let impatience: ReturnType<typeof setTimeout> | null = null;

  const calm = (): void => {
    if (impatience !== null) clearTimeout(impatience);
    impatience = null;
  };

  const next = async (): Promise<void> => {
    while (waiting) {
      const { question } = waiting;
      waiting = null;
      const controller = new AbortController();
      inFlight = controller;
      try {
        const answer = await run(question, controller.signal);
        if (!controller.signal.aborted) answered(answer, question);
      } catch (thrown) {
        if (!controller.signal.aborted) failed(Fault.from(thrown), question);
      } finally {
        if (inFlight === controller) inFlight = null;
        calm();
      }
    }
  };

  return {
    ask(question) {
      waiting = { question };
      if (!inFlight) {
        void next();
        return;
      }
      const running = inFlight;
      impatience ??= setTimeout(() => running.abort(), patienceMs);
    },
    stop() {
      waiting = null;
      inFlight?.abort();
      calm();
    },
  };
}
