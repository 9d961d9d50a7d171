/** Long work that something else waits for: how far it is, and ways to go on without it or not at all. */
import { useEffect, useState } from "preact/hooks";
import { Fault } from "../../core/fault.ts";
import { sayFault } from "../app/notices.ts";
import { words } from "../words/words.ts";
import { Frame } from "./frame.tsx";

interface Props {
  readonly title: string;
  readonly text: (done: number, all: number) => string;
  readonly without: string;
  readonly run: (told: (done: number, all: number) => void, stop: AbortSignal) => Promise<unknown>;
  /** With what was found, null in it for going on without; null for not going on. */
  readonly answer: (answer: { readonly found: unknown } | null) => void;
}

export function WaitingDialog({ title, text, without, run, answer }: Props) {
  const [[done, all], setDone] = useState<readonly [number, number]>([0, 1]);
  useEffect(() => {
    const controller = new AbortController();
    const told = (now: number, of: number): void => setDone([now, of]);
    run(told, controller.signal).then(
      (found) => controller.signal.aborted || answer({ found }),
      (thrown: unknown) => {
        if (controller.signal.aborted || Fault.from(thrown).code === "cancelled") return;
        sayFault(thrown);
        answer({ found: null });
      },
    );
    return () => controller.abort();
    // Asked once: the dialog is for one piece of work.
  }, []);
  return (
    <Frame title={title} onAway={() => answer(null)}>
      <p role="status" data-test="waiting">
        {text(done, all)}
      </p>
      <progress class="waiting-bar" value={done} max={all} aria-label={title} />
      <div class="dialog-buttons">
        <span class="spread" />
        <button type="button" class="button" onClick={() => answer(null)}>
          {words.dialogs.cancel}
        </button>
        <button
          type="button"
          class="button strong"
          autofocus
          data-test="go-without"
          onClick={() => answer({ found: null })}
        >
          {without}
        </button>
      </div>
    </Frame>
  );
}
