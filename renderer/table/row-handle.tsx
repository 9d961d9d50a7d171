/** The handle of a row of the leg table: dragged, or moved by the arrow keys, it puts the leg's target elsewhere in the walk. */
import { signal } from "@preact/signals";
import { reorderPoint } from "../../core/walk/several.ts";
import { pointLabel } from "../../core/walk/walk.ts";
import { placeFor } from "../print/column-order.ts";
import { edit, walk } from "../walk-state/walk-document.ts";
import { words } from "../words/words.ts";

interface Drag {
  readonly from: number;
  readonly to: number;
}

const drag = signal<Drag | null>(null);

/** How a row is marked while another is dragged to it: it would come before it, or after it. */
export function dropMark(at: number): "" | "drop-before" | "drop-after" {
  const now = drag.value;
  if (!now || now.to === now.from || at !== now.to) return "";
  return now.to < now.from ? "drop-before" : "drop-after";
}

/** Row `n` is the leg that ends at the walk's point `n` + 1. */
function move(from: number, to: number): void {
  const point = walk.value.points[from + 1];
  const last = walk.value.points.length - 2;
  if (!point || to === from || to < 0 || to > last) return;
  edit(words.steps.reorder(pointLabel(walk.value, from + 1)), (now) => reorderPoint(now, point.id, to + 1));
}

export function RowHandle({ at }: { readonly at: number }) {
  const press = (event: PointerEvent): void => {
    const handle = event.currentTarget as HTMLElement;
    const body = handle.closest("tbody");
    if (event.button !== 0 || !body) return;
    event.preventDefault();
    event.stopPropagation();
    handle.setPointerCapture(event.pointerId);
    handle.focus();
    drag.value = { from: at, to: at };
    const follow = ({ clientY }: PointerEvent): void => {
      const middles = [...body.rows].map((row) => {
        const { top, height } = row.getBoundingClientRect();
        return top + height / 2;
      });
      drag.value = { from: at, to: Math.min(placeFor(clientY, middles, at), body.rows.length - 1) };
    };
    const stop = (): void => {
      drag.value = null;
      handle.removeEventListener("pointermove", follow);
      handle.removeEventListener("pointerup", drop);
      handle.removeEventListener("pointercancel", stop);
      window.removeEventListener("keydown", escape, true);
    };
    const drop = (): void => {
      const to = drag.value?.to ?? at;
      stop();
      move(at, to);
    };
    const escape = (key: KeyboardEvent): void => {
      if (key.key !== "Escape") return;
      key.preventDefault();
      key.stopPropagation();
      stop();
    };
    handle.addEventListener("pointermove", follow);
    handle.addEventListener("pointerup", drop);
    handle.addEventListener("pointercancel", stop);
    window.addEventListener("keydown", escape, true);
  };
  const key = (event: KeyboardEvent): void => {
    const step = { ArrowUp: -1, ArrowDown: 1 }[event.key];
    if (step === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    move(at, at + step);
    // The row goes with its leg: the keyboard stays on it.
    const table = (event.currentTarget as HTMLElement).closest("table");
    requestAnimationFrame(() => table?.querySelectorAll<HTMLElement>(".row-handle")[at + step]?.focus());
  };
  return (
    <button
      type="button"
      class="row-handle"
      aria-label={words.table.reorder(pointLabel(walk.value, at + 1))}
      title={words.table.reorderHint}
      onPointerDown={press}
      onKeyDown={key}
      onClick={(event) => event.stopPropagation()}
    >
      <svg width="8" height="12" viewBox="0 0 8 12" aria-hidden="true">
        <path d="M1 3H7M1 6H7M1 9H7" />
      </svg>
    </button>
  );
}
