/** The first rows of a table, and over each column what it is taken for. */
import { type Column, COLUMNS, type Columns, type TableLook } from "../../core/exchange/csv-columns.ts";
import { exchangeWords } from "../words/exchange-words.ts";
import { options, readAs } from "./import-state.ts";

const { in: say } = exchangeWords;
const NO_WISH = { separator: null, decimal: null, header: null, columns: null } as const;

/** @param change of how the table is taken */
export function takeTableAs(change: Partial<NonNullable<typeof options.value.table>>): void {
  readAs({ table: { ...NO_WISH, ...options.peek().table, ...change } });
}

export function TableColumns({ table }: { readonly table: TableLook }) {
  const numbers = Array.from({ length: table.width }, (_, i) => i);
  const meaningOf = (i: number): Column | "" => COLUMNS.find((column) => table.columns[column] === i) ?? "";
  const mean = (i: number, meaning: Column | ""): void => {
    const kept = Object.entries(table.columns).filter(([column, at]) => at !== i && column !== meaning);
    const columns: Columns = { ...Object.fromEntries(kept), ...(meaning === "" ? {} : { [meaning]: i }) };
    // Columns that are chosen stay what they are whatever the first row says.
    takeTableAs({ columns, header: table.header });
  };
  return (
    <fieldset class="exchange-part">
      <legend>{say.columns}</legend>
      <div class="column-sample" tabIndex={0} role="group" aria-label={say.columns}>
        <table>
          <thead>
            <tr>
              {numbers.map((i) => (
                <th key={i} scope="col">
                  <select
                    class="field"
                    aria-label={say.columnNo(i + 1)}
                    data-test={`column-${i}`}
                    value={meaningOf(i)}
                    onChange={(event) => mean(i, event.currentTarget.value as Column | "")}
                  >
                    {(["", ...COLUMNS] as const).map((column) => (
                      <option key={column} value={column}>
                        {say.column[column]}
                      </option>
                    ))}
                  </select>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.sample.map((cells, row) => (
              <tr key={row} class={table.header && row === 0 ? "header-row" : ""}>
                {numbers.map((i) => (
                  <td key={i}>{cells[i]?.slice(0, 80)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p class="soft">{say.rows(table.rows)}</p>
    </fieldset>
  );
}
