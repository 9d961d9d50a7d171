/** The day of the walk as a field: in the bar, and in the sentences of the settings. */
import { setDate } from "../../core/walk/edits.ts";
import { edit, endGroup, walk } from "../walk-state/walk-document.ts";
import { words } from "../words/words.ts";

interface Props {
  readonly class: string;
  readonly label?: string;
  readonly test?: string;
}

/** A year still being typed stands as 0002, 0020, 0202: nobody walks in it. */
const WHOLE_YEAR = /^[1-9]\d{3}-/;

export function DayField({ class: className, label = words.bar.date, test }: Props) {
  const { date } = walk.value;
  return (
    <input
      class={className}
      type="date"
      required
      // Keeps the year to four figures.
      max="9999-12-31"
      aria-label={label}
      title={label}
      value={date}
      {...(test ? { "data-test": test } : {})}
      onInput={({ currentTarget: { value } }) =>
        // Day and month count as they are typed; all of it is one step back.
        WHOLE_YEAR.test(value) && edit(words.steps.date, (now) => setDate(now, value), "day")
      }
      onBlur={({ currentTarget: field }) => {
        endGroup();
        // What was left unfinished gives way to the day that holds, once the browser has settled its own parts.
        setTimeout(() => (field.value = walk.value.date));
      }}
    />
  );
}
