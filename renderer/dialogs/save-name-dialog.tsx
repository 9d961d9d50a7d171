import { useLayoutEffect, useRef } from "preact/hooks";
import { words } from "../words/words.ts";
import { Frame } from "./frame.tsx";

interface Props {
  readonly title: string;
  readonly suggested: string;
  readonly folder: string;
  readonly answer: (name: string | null) => void;
}

/** A name for a file in the host's folder. */
export function SaveNameDialog({ title, suggested, folder, answer }: Props) {
  const field = useRef<HTMLInputElement>(null);
  // Before it is painted: a selection set later would fall into what a quick hand types.
  useLayoutEffect(() => {
    // The name is picked up to its ending: typing replaces what is likely to change.
    field.current?.focus();
    field.current?.setSelectionRange(0, suggested.replace(/(\.walk)?\.\w+$/, "").length);
  }, [suggested]);
  return (
    <Frame title={title} onAway={() => answer(null)}>
      <form
        method="dialog"
        onSubmit={(event) => {
          event.preventDefault();
          const name = field.current?.value.trim();
          if (name) answer(name);
        }}
      >
        <label class="stacked">
          <span>{words.dialogs.name}</span>
          <input
            ref={field}
            class="field"
            name="name"
            defaultValue={suggested}
            required
            autocomplete="off"
            spellcheck={false}
          />
        </label>
        <p class="soft">{words.dialogs.saveIn(folder)}</p>
        <div class="dialog-buttons">
          <button type="button" class="button" onClick={() => answer(null)}>
            {words.dialogs.cancel}
          </button>
          <button type="submit" class="button strong">
            {words.dialogs.save}
          </button>
        </div>
      </form>
    </Frame>
  );
}
