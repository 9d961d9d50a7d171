/** A bearing and the north it was read on. */
import type { North } from "../../core/walk/walk.ts";
import { NORTHS } from "../app/north.ts";
import { fixWords } from "../words/fix-words.ts";

export interface BearingFieldProps {
  /** As tests name it: "bearing-1" with "north-1". */
  readonly test: readonly [bearing: string, north: string];
  readonly label: string;
  readonly bearing: string;
  readonly north: North;
  readonly change: (change: { readonly bearing?: string; readonly north?: North }) => void;
}

export function BearingField({ test, label, bearing, north, change }: BearingFieldProps) {
  return (
    <>
      <input
        class="field fix-bearing"
        type="text"
        aria-label={label}
        placeholder="000°"
        autocomplete="off"
        spellcheck={false}
        value={bearing}
        data-test={`fix-${test[0]}`}
        onInput={(event) => change({ bearing: event.currentTarget.value })}
      />
      <select
        class="field"
        aria-label={fixWords.northOf(label)}
        value={north}
        data-test={`fix-${test[1]}`}
        onChange={(event) => change({ north: event.currentTarget.value as North })}
      >
        {NORTHS.map((one) => (
          <option key={one} value={one}>
            {fixWords.norths[one]}
          </option>
        ))}
      </select>
    </>
  );
}
