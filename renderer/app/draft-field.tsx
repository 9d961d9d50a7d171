/** A text field that changes the walk once, when one is done with it: on Enter or when left. Escape takes it back. */
import { useRef } from "preact/hooks";

interface Props {
  readonly label: string;
  readonly value: string;
  readonly commit: (text: string) => void;
  readonly placeholder?: string;
  readonly class?: string;
  readonly test?: string;
}

export function DraftField({ label, value, commit, placeholder, class: className = "", test }: Props) {
  const leaving = useRef(false);
  return (
    <input
      class={className}
      aria-label={label}
      title={label}
      // A new value from outside (undo, another walk) replaces the field with its draft.
      key={value}
      defaultValue={value}
      placeholder={placeholder ?? ""}
      autocomplete="off"
      spellcheck={false}
      {...(test ? { "data-test": test } : {})}
      onKeyDown={(event) => {
        if (event.key === "Enter") event.currentTarget.blur();
        if (event.key === "Escape") {
          leaving.current = true;
          event.currentTarget.value = value;
          event.currentTarget.blur();
          leaving.current = false;
        }
        event.stopPropagation();
      }}
      onBlur={(event) => {
        if (!leaving.current && event.currentTarget.value !== value) commit(event.currentTarget.value);
      }}
    />
  );
}
