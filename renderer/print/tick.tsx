import type { ComponentChildren } from "preact";
import "../settings/entry.css";

interface Props {
  readonly on: boolean;
  readonly turn: (on: boolean) => void;
  /** Why it cannot be ticked now. */
  readonly refusal?: string | null;
  readonly test?: string;
  readonly children: ComponentChildren;
}

/** A box to tick with its words. */
export function Tick({ on, turn, refusal = null, test, children }: Props) {
  return (
    <label class="radio-line" {...(refusal ? { title: refusal } : {})}>
      <input
        type="checkbox"
        checked={on}
        disabled={refusal !== null}
        {...(test ? { "data-test": test } : {})}
        onChange={(event) => turn(event.currentTarget.checked)}
      />
      <span>{children}</span>
    </label>
  );
}
