/** What the slip says in one place: what it waits for, what cannot be, what was done. Read out when it changes. */
import { fixWords } from "../words/fix-words.ts";
import { fixDone, picking } from "./fix-state.ts";
import { FaultLine } from "./place-field.tsx";

export function Said({ found, waiting }: { readonly found: unknown; readonly waiting: string }) {
  return (
    <div role="status" data-test="fix-said">
      {picking.value && <p>{picking.value.words}</p>}
      {found === null && !picking.value && <p class="soft">{waiting}</p>}
      <FaultLine of={found} />
      {fixDone.value && <p class="soft">{fixDone.value}</p>}
    </div>
  );
}

/** What to mind with an answer. */
export function Warnings({ of }: { readonly of: readonly string[] }) {
  if (of.length === 0) return null;
  return (
    <ul class="fix-warnings" aria-label={fixWords.warnings} data-test="fix-warnings">
      {of.map((words) => (
        <li key={words} class="sum-fault">
          {words}
        </li>
      ))}
    </ul>
  );
}
