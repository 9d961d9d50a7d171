/** A known place: a name, a point of the walk, a reference, or a click on the map. */
import { Fault } from "../../core/fault.ts";
import { fixWords } from "../words/fix-words.ts";
import { picking } from "./fix-state.ts";
import { startPicking } from "./pick-on-map.ts";
import { writtenPlace } from "./read-fields.ts";

export interface PlaceFieldProps {
  /** Of the tests, and what tells fields apart while one waits for a click. */
  readonly id: string;
  /** As read out: "Known point 1". */
  readonly label: string;
  /** Shown before the field; left out where the label's sense is clear. */
  readonly lead?: string;
  readonly value: string;
  readonly change: (text: string) => void;
}

export function PlaceField({ id, label, lead, value, change }: PlaceFieldProps) {
  const waits = picking.value?.id === id;
  const pick = {
    id,
    words: fixWords.picking(label),
    take: (at: Parameters<typeof writtenPlace>[0]) => change(writtenPlace(at)),
  };
  return (
    <span class="fix-line fix-place">
      {lead && <span class="fix-lead">{lead}</span>}
      <input
        class="field fix-known"
        type="text"
        list="fix-names"
        aria-label={label}
        placeholder={fixWords.knownHint}
        autocomplete="off"
        spellcheck={false}
        value={value}
        data-test={`fix-${id}`}
        onInput={(event) => change(event.currentTarget.value)}
      />
      <button
        type="button"
        class="button edged"
        aria-label={fixWords.pick(label)}
        aria-pressed={waits}
        title={fixWords.pick(label)}
        onClick={(event) => {
          if (waits) picking.value = null;
          // A press of a key is a click without a count.
          else startPicking(pick, event.detail === 0);
        }}
        data-test={`fix-pick-${id}`}
      >
        {fixWords.pickShort}
      </button>
    </span>
  );
}

/** What is wrong with a line of the slip. */
export function FaultLine({ of }: { readonly of: unknown }) {
  return of instanceof Fault ? (
    <p class="sum-fault">
      {of.what} {of.remedy}
    </p>
  ) : null;
}
