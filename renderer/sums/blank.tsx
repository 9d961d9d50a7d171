/** A blank in a sentence, and what stands after it: the answer, how it was worked out, or why there is none. */
import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";
import "../settings/entry.css";
import type { Worked } from "./worked.ts";

interface BlankProps {
  readonly label: string;
  readonly value: string;
  readonly onInput: (text: string) => void;
  readonly placeholder?: string;
  /** Characters it has room for before anything is written. */
  readonly least?: number;
  readonly test?: string;
  readonly first?: boolean;
  /** The sum that complains about what is written here. */
  readonly of?: Worked<unknown>;
}

export function Blank({
  label,
  value,
  onInput,
  placeholder = "…",
  least = 4,
  test,
  first = false,
  of,
}: BlankProps) {
  return (
    <input
      class="blank"
      type="text"
      aria-label={label}
      title={label}
      aria-invalid={of?.kind === "fault"}
      autocomplete="off"
      spellcheck={false}
      autofocus={first}
      placeholder={placeholder}
      style={{ minWidth: `${least}ch` }}
      value={value}
      {...(test ? { "data-test": test } : {})}
      onInput={(event) => onInput(event.currentTarget.value)}
    />
  );
}

export function Answer({ children, test }: { readonly children: ComponentChildren; readonly test?: string }) {
  return (
    <output class="answer" {...(test ? { "data-test": test } : {})}>
      {children}
    </output>
  );
}

/** What follows a sum, when it was worked out or could not be. */
export function Working({ of, test }: { readonly of: Worked<unknown>; readonly test?: string }) {
  if (of.kind === "waiting") return null;
  const tag = test ? { "data-test": test } : {};
  if (of.kind === "fault")
    return (
      <p class="sum-fault" role="status" {...tag}>
        {of.fault.what} {of.fault.remedy}
      </p>
    );
  return (
    <p class="working soft" {...tag}>
      {of.how.join(" ")}
    </p>
  );
}

export function SumGroup({
  title,
  children,
}: {
  readonly title: string;
  readonly children: ComponentChildren;
}) {
  const id = useId();
  return (
    <section class="sum-group" aria-labelledby={id}>
      <h3 id={id}>{title}</h3>
      {children}
    </section>
  );
}

/** The answer's value, or a dash while there is none. */
export const shown = <T,>(of: Worked<T>, text: (value: T) => string): string =>
  of.kind === "answer" ? text(of.value) : "–";
