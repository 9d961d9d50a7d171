/** Which columns the leg table has, and in which order: dragged, or moved by keys and buttons. */
import { useRef, useState } from "preact/hooks";
import {
  LEG_COLUMNS,
  type LegColumnId,
  type LegTable,
  sheetColumns,
} from "../../core/legs/table/leg-table.ts";
import { figures } from "../walk-state/figures.ts";
import { Choice, Radio } from "../settings/entry.tsx";
import { printWords } from "../words/print-words.ts";
import { moved, placeFor, without } from "./column-order.ts";
import { legTableWith } from "./leg-table-of-walk.ts";
import { choices, choose } from "./print-state.ts";
import { BLANKS, PRINTED_COLUMNS } from "../../core/sheet/tables/table-columns.ts";
import { Tick } from "./tick.tsx";

const { table: say } = printWords;

export function TableChoices() {
  const { columns, blanks } = choices.value;
  const found = figures.value;
  if (!found) return null;
  const table = legTableWith(found);
  const usual = sheetColumns(table).map(({ id }) => id);
  return (
    <fieldset class="print-part">
      <legend>{say.heading}</legend>
      <Radio
        name="columns"
        chosen={columns === null}
        pick={() => choose({ columns: null })}
        test="columns-usual"
      >
        {say.usual}
      </Radio>
      <Radio
        name="columns"
        chosen={columns !== null}
        pick={() => choose({ columns: columns ?? usual })}
        test="columns-own"
      >
        {say.own}
      </Radio>
      {columns && <Columns columns={columns} table={table} />}
      <p>{say.blanksLead}</p>
      {BLANKS.map(({ id }) => (
        <Tick
          key={id}
          on={blanks.includes(id)}
          turn={(on) =>
            choose({
              blanks: BLANKS.map((one) => one.id).filter((one) => (one === id ? on : blanks.includes(one))),
            })
          }
          test={`blank-${id}`}
        >
          {say.blanks[id]}
        </Tick>
      ))}
    </fieldset>
  );
}

function Columns({ columns, table }: { readonly columns: readonly string[]; readonly table: LegTable }) {
  const list = useRef<HTMLOListElement>(null);
  const [drag, setDrag] = useState<{ readonly from: number; readonly to: number } | null>(null);
  const nameOf = (id: string): string => LEG_COLUMNS[id as LegColumnId]?.heading(table) ?? id;
  const put = (next: readonly string[]): void => choose({ columns: next });
  const focus = (at: number): void =>
    void requestAnimationFrame(() =>
      list.current?.querySelectorAll<HTMLElement>(".column-name")[at]?.focus(),
    );

  const press = (event: PointerEvent, from: number): void => {
    if (event.button !== 0) return;
    const handle = event.currentTarget as HTMLElement;
    const middles = [...(list.current?.children ?? [])].map((row) => {
      const { top, height } = row.getBoundingClientRect();
      return top + height / 2;
    });
    handle.setPointerCapture(event.pointerId);
    let to = from;
    const move = (now: PointerEvent): void => {
      to = placeFor(now.clientY, middles, from);
      setDrag({ from, to });
    };
    const end = (now: PointerEvent): void => {
      handle.removeEventListener("pointermove", move);
      handle.removeEventListener("pointerup", end);
      handle.removeEventListener("pointercancel", end);
      setDrag(null);
      if (now.type === "pointerup" && to !== from) put(moved(columns, from, to));
    };
    handle.addEventListener("pointermove", move);
    handle.addEventListener("pointerup", end);
    handle.addEventListener("pointercancel", end);
  };

  const key = (event: KeyboardEvent, at: number): void => {
    const by = { ArrowUp: -1, ArrowDown: 1 }[event.key];
    if (by !== undefined) {
      const to = Math.max(0, Math.min(columns.length - 1, at + by));
      if (event.altKey && to !== at) put(moved(columns, at, to));
      focus(to);
    } else if (event.key === "Delete") {
      put(without(columns, at));
      focus(Math.min(at, columns.length - 2));
    } else return;
    event.preventDefault();
  };

  const shown = drag ? moved(columns, drag.from, drag.to) : columns;
  const left = PRINTED_COLUMNS.filter((id) => !columns.includes(id));
  return (
    <>
      <p id="column-keys" class="soft">
        {say.columnKeys}
      </p>
      <ol class="columns" ref={list} aria-label={say.list} data-test="columns">
        {shown.map((id, i) => {
          const name = nameOf(id);
          return (
            <li key={id} class={drag && id === columns[drag.from] ? "dragged" : ""} data-column={id}>
              <button
                type="button"
                class="column-name"
                aria-label={say.column(name, i + 1, shown.length)}
                aria-describedby="column-keys"
                onPointerDown={(event) => press(event, i)}
                onKeyDown={(event) => key(event, i)}
              >
                {name}
              </button>
              <button
                type="button"
                class="button"
                aria-label={say.earlier(name)}
                aria-disabled={i === 0}
                onClick={() => put(moved(columns, i, i - 1))}
              >
                ↑
              </button>
              <button
                type="button"
                class="button"
                aria-label={say.later(name)}
                aria-disabled={i === shown.length - 1}
                onClick={() => put(moved(columns, i, i + 1))}
              >
                ↓
              </button>
              <button
                type="button"
                class="button"
                aria-label={say.remove(name)}
                onClick={() => put(without(columns, i))}
              >
                ×
              </button>
            </li>
          );
        })}
      </ol>
      {left.length > 0 && (
        <Choice
          label={say.add}
          value=""
          options={[["", say.add], ...left.map((id) => [id, nameOf(id)] as const)]}
          pick={(id) => id !== "" && put([...columns, id])}
          test="add-column"
        />
      )}
    </>
  );
}
