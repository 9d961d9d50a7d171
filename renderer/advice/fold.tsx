/** A part of the slip that folds away under its heading; what is open stays so from leg to leg. */
import { signal } from "@preact/signals";
import type { ComponentChildren } from "preact";

const open = signal<ReadonlyMap<string, boolean>>(new Map());

export const isOpen = (id: string, usually: boolean): boolean => open.value.get(id) ?? usually;

interface FoldProps {
  readonly id: string;
  readonly title: ComponentChildren;
  /** In one or two words, beside the heading: what it says is known without opening it. */
  readonly sum?: ComponentChildren;
  /** Whether it is open before anybody chose. */
  readonly usually?: boolean;
  /** A heading of the slip, or a line within a part of it. */
  readonly minor?: boolean;
  readonly children: ComponentChildren;
}

export function Fold({ id, title, sum, usually = false, minor = false, children }: FoldProps) {
  const shown = isOpen(id, usually);
  const turn = (): void => void (open.value = new Map([...open.peek(), [id, !shown]]));
  const button = (
    <button
      type="button"
      class="fold-button"
      aria-expanded={shown}
      aria-controls={`fold-${id}`}
      data-test={`fold-${id}`}
      onClick={turn}
    >
      <svg class="fold-mark" width="8" height="8" viewBox="0 0 8 8" aria-hidden="true">
        <path d="M2 1l3.5 3L2 7" />
      </svg>
      <span>{title}</span>
    </button>
  );
  return (
    <section class={minor ? "fold minor" : "fold"}>
      <div class="fold-head">
        {minor ? button : <h3>{button}</h3>}
        {sum && <span class="fold-sum soft">{sum}</span>}
      </div>
      <div id={`fold-${id}`} class="fold-body" hidden={!shown}>
        {shown && children}
      </div>
    </section>
  );
}
