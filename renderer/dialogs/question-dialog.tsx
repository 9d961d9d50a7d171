import { words } from "../words/words.ts";
import type { QuestionButton } from "./dialogs.ts";
import { Frame } from "./frame.tsx";

interface Props {
  readonly title: string;
  readonly text: string;
  readonly buttons: readonly QuestionButton[];
  readonly answer: (id: string | null) => void;
}

/** One question, one sentence, a button for each answer; going back is always among them. */
export function QuestionDialog({ title, text, buttons, answer }: Props) {
  return (
    <Frame title={title} onAway={() => answer(null)}>
      <p>{text}</p>
      <div class="dialog-buttons">
        <button type="button" class="button" onClick={() => answer(null)}>
          {words.dialogs.unsavedKeep}
        </button>
        {buttons.map(({ id, label, strong }) => (
          <button
            key={id}
            type="button"
            class={`button ${strong ? "strong" : "edged"}`}
            autofocus={strong === true}
            onClick={() => answer(id)}
          >
            {label}
          </button>
        ))}
      </div>
    </Frame>
  );
}
