/** The leg in one line: the program's, or the person's own, written in place. */
import { instructionIn } from "../../core/legs/table/leg-table.ts";
import type { LegFigures, WalkFigures } from "../../core/legs/figures.ts";
import { setInstruction } from "../../core/walk/edits.ts";
import { legTableWith } from "../print/leg-table-of-walk.ts";
import { edit, walk } from "../walk-state/walk-document.ts";
import { adviceWords } from "../words/advice-words.ts";

const words = adviceWords.instruction;

export function InstructionField({ leg, all }: { readonly leg: LegFigures; readonly all: WalkFigures }) {
  const from = walk.value.points[leg.n - 1];
  if (!from) return null;
  const line = instructionIn(legTableWith(all), leg);
  const isOwn = line.from === "person";
  const asItLies = { from: leg.fromLonLat, to: leg.toLonLat, bearingMagneticDeg: leg.bearingMagneticDeg };
  const write = (text: string): void => {
    const own = text.trim();
    if (own === line.text || (own === "" && !isOwn)) return;
    edit(
      own === "" ? adviceWords.steps.instructionBack(leg.n) : adviceWords.steps.instruction(leg.n),
      (now) => setInstruction(now, from.id, own, asItLies),
    );
  };
  return (
    <section class="instruction" data-test="instruction-part">
      <label class="stacked">
        <span class="note-of">
          {words.title}
          {isOwn && <span class="own-mark"> {words.own}</span>}
        </span>
        <textarea
          class="note-field"
          rows={1}
          aria-label={words.label}
          title={isOwn ? words.empty : words.label}
          // A new line from outside (another leg, undo) replaces what stands there.
          key={`${from.id} ${line.text}`}
          defaultValue={line.text}
          data-test="instruction"
          onKeyDown={(event) => {
            if (event.key === "Enter" && !event.shiftKey) {
              event.preventDefault();
              event.currentTarget.blur();
            }
            if (event.key === "Escape") {
              event.currentTarget.value = line.text;
              event.currentTarget.blur();
            }
            event.stopPropagation();
          }}
          onBlur={(event) => write(event.currentTarget.value)}
        />
      </label>
      {isOwn && (
        <p class="instruction-own">
          {line.mayBeStale && (
            <b class="stale" data-test="instruction-stale">
              {words.stale}
            </b>
          )}{" "}
          <button type="button" class="link" data-test="instruction-back" onClick={() => write("")}>
            {words.back}
          </button>
        </p>
      )}
    </section>
  );
}
