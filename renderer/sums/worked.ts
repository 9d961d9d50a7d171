/** The answer to a sum with how it was worked out; or why there is none; or nothing while a blank is still empty. */
import { Fault } from "../../core/fault.ts";

export type Worked<T> =
  | { readonly kind: "answer"; readonly value: T; readonly how: readonly string[] }
  | { readonly kind: "fault"; readonly fault: Fault }
  | { readonly kind: "waiting" };

/** A blank not yet filled in: no mistake. */
const EMPTY = new Fault("bad-argument", "A blank is empty.");

/** The text of a blank. @throws what `work` takes for "waiting" when there is none */
export function filled(text: string): string {
  if (text.trim() === "") throw EMPTY;
  return text;
}

/** Runs a sum; a mistake in what was typed becomes its reason. */
export function work<T>(sum: () => { readonly value: T; readonly how: readonly string[] }): Worked<T> {
  try {
    return { kind: "answer", ...sum() };
  } catch (thrown) {
    return thrown === EMPTY ? { kind: "waiting" } : { kind: "fault", fault: Fault.from(thrown) };
  }
}
