/**
 * A blank to write in and a choice within a sentence. What is written takes effect when one is done with it (Enter,
 * or leaving); what cannot be is not taken, and the reason stands beside it. Escape takes it back.
 */
import type { ComponentChildren } from "preact";
import { useId, useState } from "preact/hooks";
import { Fault } from "../../core/fault.ts";
import "./entry.css";

interface EntryProps {
  readonly label: string;
  /** As it is now. */
  readonly value: string;
  /** Reads and applies. @throws Fault with the reason, having changed nothing */
  readonly take: (text: string) => void;
  readonly placeholder?: string;
  readonly least?: number;
  readonly list?: string;
  readonly test?: string;
}

interface Typed {
  readonly text: string;
  /** The value that stood there when it was typed. */
  readonly over: string;
  readonly fault: Fault | null;
}

export function Entry({ label, value, take, placeholder = "…", least = 3, list, test }: EntryProps) {
  const [kept, keep] = useState<Typed | null>(null);
  const id = useId();
  // A new value from outside (undo, another choice) replaces what was typed over the old one.
  const typed = kept?.over === value ? kept : null;
  const fault = typed?.fault ?? null;
  const done = (text: string): void => {
    try {
      if (text !== value) take(text);
      keep(null);
    } catch (thrown) {
      keep({ text, over: value, fault: Fault.from(thrown) });
    }
  };
  return (
    <>
      <input
        class="blank"
        type="text"
        aria-label={label}
        title={label}
        aria-invalid={fault !== null}
        {...(fault ? { "aria-describedby": id } : {})}
        autocomplete="off"
        spellcheck={false}
        placeholder={placeholder}
        style={{ minWidth: `${least}ch` }}
        value={typed?.text ?? value}
        {...(list ? { list } : {})}
        {...(test ? { "data-test": test } : {})}
        onInput={(event) => keep({ text: event.currentTarget.value, over: value, fault: null })}
        onBlur={(event) => done(event.currentTarget.value)}
        onKeyDown={(event) => {
          if (event.key === "Enter") done(event.currentTarget.value);
          if (event.key !== "Escape" || typed === null) return;
          event.preventDefault();
          event.stopPropagation();
          keep(null);
        }}
      />
      {fault && <Reason id={id} fault={fault} />}
    </>
  );
}

/** Why an entry was not taken, beside it. */
export const Reason = ({ fault, id }: { readonly fault: Fault; readonly id?: string }) => (
  <span class="entry-fault" role="alert" data-test="entry-fault" {...(id ? { id } : {})}>
    {fault.what}
    {fault.remedy ? ` ${fault.remedy}` : ""}
  </span>
);

interface ChoiceProps<T extends string> {
  readonly label: string;
  readonly value: T;
  readonly options: readonly (readonly [T, string])[];
  readonly pick: (value: T) => void;
  readonly test?: string;
}

export function Choice<T extends string>({ label, value, options, pick, test }: ChoiceProps<T>) {
  return (
    <select
      class="blank choice-blank"
      aria-label={label}
      title={label}
      value={value}
      {...(test ? { "data-test": test } : {})}
      onChange={(event) => pick(event.currentTarget.value as T)}
    >
      {options.map(([one, text]) => (
        <option key={one} value={one}>
          {text}
        </option>
      ))}
    </select>
  );
}

interface RadioProps {
  readonly name: string;
  readonly chosen: boolean;
  readonly pick: () => void;
  readonly refusal?: string | null;
  readonly test?: string;
  readonly children: ComponentChildren;
}

export function Radio({ name, chosen, pick, refusal = null, test, children }: RadioProps) {
  return (
    <label class="radio-line" {...(refusal ? { title: refusal } : {})}>
      <input
        type="radio"
        name={name}
        checked={chosen}
        disabled={refusal !== null}
        {...(test ? { "data-test": test } : {})}
        onChange={pick}
      />
      <span>{children}</span>
    </label>
  );
}
