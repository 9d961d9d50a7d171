/** What a person may say of a file that does not say it itself: letters, axes, datum or grid, the dialect of a table. */
import type { TableLook } from "../../core/exchange/csv-columns.ts";
import { middleOf } from "../../core/exchange/exchange.ts";
import { settings } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { Tick } from "../print/tick.tsx";
import { exchangeWords } from "../words/exchange-words.ts";
import { entries, LabelledChoice } from "./choice.tsx";
import { figureSystems, unitOf } from "./figure-systems.ts";
import { options, readAs, system } from "./import-state.ts";
import { takeTableAs } from "./table-columns.tsx";

const { in: say } = exchangeWords;

export function ReadingAs({ table }: { readonly table: TableLook | null }) {
  const now = options.value;
  const systems = figureSystems(middleOf(openMap.value?.info.bounds ?? null), settings.value.grids);
  const { key, unit } = system.value;
  const count = (next: { readonly key: string; readonly unit: string }): void => {
    system.value = next;
    const frame = systems.find((one) => one.key === next.key)?.frame ?? null;
    readAs({ frame: frame && frame.figures === "grid" ? { ...frame, unitM: unitOf(next.unit) } : frame });
  };
  return (
    <details class="exchange-part" open={table !== null || now.exchanged !== null || key !== ""}>
      <summary>{say.asIs}</summary>
      <div class="reading-as">
        {table && <Dialect table={table} />}
        <LabelledChoice
          label={say.axes}
          value={now.exchanged === null ? "" : now.exchanged ? "exchanged" : "asIs"}
          options={entries(say.axesChoices)}
          pick={(value) => readAs({ exchanged: value === "" ? null : value === "exchanged" })}
          test="axes"
        />
        <LabelledChoice
          label={say.system}
          value={key}
          options={systems.map((one) => [one.key, one.label] as const)}
          pick={(value) => count({ key: value, unit })}
          test="system"
        />
        {now.frame?.figures === "grid" && (
          <LabelledChoice
            label={say.unit}
            value={unit}
            options={entries(say.units).toSorted(([a], [b]) => Number(a !== "") - Number(b !== ""))}
            pick={(value) => count({ key, unit: value })}
            test="unit"
          />
        )}
        <LabelledChoice
          label={say.encoding}
          value={now.encoding ?? ""}
          options={entries(say.encodings)}
          pick={(value) => readAs({ encoding: value || null })}
          test="encoding"
        />
      </div>
    </details>
  );
}

function Dialect({ table }: { readonly table: TableLook }) {
  const wish = options.value.table;
  return (
    <>
      <LabelledChoice
        label={say.separator}
        value={wish?.separator ?? ""}
        options={entries(say.separators)}
        pick={(value) =>
          takeTableAs({ separator: (value || null) as TableLook["separator"] | null, columns: null })
        }
        test="separator"
      />
      <LabelledChoice
        label={say.decimal}
        value={wish?.decimal ?? ""}
        options={entries(say.decimals)}
        pick={(value) => takeTableAs({ decimal: (value || null) as "." | "," | null })}
        test="decimal"
      />
      <Tick on={table.header} turn={(header) => takeTableAs({ header })} test="header">
        {say.header}
      </Tick>
    </>
  );
}
