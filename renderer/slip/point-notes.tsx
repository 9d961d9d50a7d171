/** The walker's own notes at the ends of a leg: of the first point too on the first leg, else only of its target. */
import { setPointNote } from "../../core/walk/edits.ts";
import { pointLabel } from "../../core/walk/walk.ts";
import { edit, walk } from "../walk-state/walk-document.ts";
import { words } from "../words/words.ts";

export function PointNotes({ leg }: { readonly leg: number }) {
  const ends = leg === 0 ? [0, 1] : [leg + 1];
  return (
    <section class="point-notes">
      {ends.map((index) => (
        <PointNote key={walk.value.points[index]?.id ?? index} index={index} />
      ))}
    </section>
  );
}

function PointNote({ index }: { readonly index: number }) {
  const point = walk.value.points[index];
  if (!point) return null;
  const label = pointLabel(walk.value, index);
  return (
    <label class="stacked">
      <span class="note-of">{words.slip.noteAt(label)}</span>
      <textarea
        class="note-field"
        rows={1}
        key={point.note}
        defaultValue={point.note}
        placeholder={words.slip.noNote}
        data-test={`note-${index}`}
        onKeyDown={(event) => event.stopPropagation()}
        onBlur={(event) => {
          const text = event.currentTarget.value.trim();
          if (text !== point.note) edit(words.steps.note(label), (now) => setPointNote(now, point.id, text));
        }}
      />
    </label>
  );
}
