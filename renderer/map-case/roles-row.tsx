/** One use of a layer, in the table of layers and roles. */
import type { SeenLayer } from "../../core/map/archive-facts.ts";
import { ROLES, type Role } from "../../core/map/kinds.ts";
import { rolesWords } from "../words/roles-words.ts";
import type { RoleRow } from "./roles-draft.ts";

interface Props {
  readonly row: RoleRow;
  readonly layer: SeenLayer;
  readonly change: (row: RoleRow) => void;
  readonly again: (row: RoleRow) => void;
}

/** Values shown of a field, and fields of a layer; the rest is told by its number. */
const VALUES_SHOWN = 6;
const WITH_ELEVATION: ReadonlySet<Role> = new Set<Role>(["contour", "spotHeight", "peak", "water"]);

export function RoleRowCells({ row, layer, change, again }: Props) {
  const { role } = row;
  const fields = layer.fields.map(({ name }) => name);
  const fieldChoice = (what: string, value: string | null, set: (field: string | null) => RoleRow) => (
    <Choice
      label={what}
      name={rolesWords.of(what, row.layer)}
      value={value ?? ""}
      none={rolesWords.none}
      options={value !== null && !fields.includes(value) ? [value, ...fields] : fields}
      take={(field) => change(set(field === "" ? null : field))}
    />
  );
  return (
    <tr data-layer={row.layer}>
      <th scope="row">{row.layer}</th>
      <td>
        <Seen layer={layer} />
      </td>
      <td>
        <select
          aria-label={rolesWords.of(rolesWords.role, row.layer)}
          value={role ?? ""}
          onChange={(event) => change({ ...row, role: (event.currentTarget.value || null) as Role | null })}
        >
          <option value="">{rolesWords.notUsed}</option>
          {ROLES.map((one) => (
            <option key={one} value={one}>
              {rolesWords.roles[one]}
            </option>
          ))}
        </select>
        <button
          type="button"
          class="button"
          aria-label={rolesWords.againFor(row.layer)}
          onClick={() => again({ ...row, role: null, conditions: [] })}
        >
          {rolesWords.again}
        </button>
      </td>
      <td>{role && <Conditions row={row} fields={fields} change={change} />}</td>
      <td>
        {role && fieldChoice(rolesWords.name, row.name, (name) => ({ ...row, name }))}
        {role &&
          WITH_ELEVATION.has(role) &&
          fieldChoice(rolesWords.elevation, row.elevation, (elevation) => ({ ...row, elevation }))}
        {role && WITH_ELEVATION.has(role) && row.elevation !== null && (
          <Choice
            label={rolesWords.unit}
            name={rolesWords.of(rolesWords.unit, row.layer)}
            value={row.unit}
            none={null}
            options={["m", "ft"]}
            take={(unit) => change({ ...row, unit: unit === "ft" ? "ft" : "m" })}
          />
        )}
        {role === "contour" && fieldChoice(rolesWords.index, row.index, (index) => ({ ...row, index }))}
      </td>
    </tr>
  );
}

/** Conditions, and a place for one more. Each is enough by itself. */
function Conditions({
  row,
  fields,
  change,
}: Pick<Props, "row" | "change"> & { readonly fields: readonly string[] }) {
  const { conditions } = row;
  const put = (at: number, field: string, values: string): void => {
    const next = conditions.map((one, i) => (i === at ? { field, values } : one));
    if (at === conditions.length) next.push({ field, values });
    change({ ...row, conditions: next.filter((one) => one.field !== "") });
  };
  return (
    <>
      {[...conditions, { field: "", values: "" }].map(({ field, values }, i) => (
        <span key={i} class="roles-condition">
          <select
            aria-label={rolesWords.of(rolesWords.only, row.layer)}
            value={field}
            onChange={(event) => put(i, event.currentTarget.value, values)}
          >
            <option value="">{conditions.length === 0 ? rolesWords.all : rolesWords.none}</option>
            {(field === "" || fields.includes(field) ? fields : [field, ...fields]).map((one) => (
              <option key={one} value={one}>
                {one}
              </option>
            ))}
          </select>
          {field !== "" && (
            <input
              type="text"
              aria-label={rolesWords.of(`${field} ${rolesWords.values}`, row.layer)}
              placeholder={rolesWords.values}
              value={values}
              onInput={(event) => put(i, field, event.currentTarget.value)}
            />
          )}
        </span>
      ))}
    </>
  );
}

function Choice(props: {
  readonly label: string;
  readonly name: string;
  readonly value: string;
  readonly none: string | null;
  readonly options: readonly string[];
  readonly take: (value: string) => void;
}) {
  return (
    <label class="roles-field">
      <span class="soft">{props.label}</span>
      <select
        aria-label={props.name}
        value={props.value}
        onChange={(event) => props.take(event.currentTarget.value)}
      >
        {props.none !== null && <option value="">{props.none}</option>}
        {props.options.map((one) => (
          <option key={one} value={one}>
            {one}
          </option>
        ))}
      </select>
    </label>
  );
}

/** How many features, and the fields with their most frequent values, to be opened out. */
function Seen({ layer }: { readonly layer: SeenLayer }) {
  if (layer.features === 0 && layer.fields.length === 0)
    return <span class="soft">{rolesWords.noneSeen}</span>;
  return (
    <details>
      <summary>{rolesWords.features(layer.features)}</summary>
      <ul class="roles-seen">
        {layer.fields.map(({ name, values }) => (
          <li key={name}>
            <b>{name}</b>{" "}
            {values
              .slice(0, VALUES_SHOWN)
              .map(({ value }) => value)
              .join(", ")}
            {values.length > VALUES_SHOWN && " …"}
          </li>
        ))}
      </ul>
    </details>
  );
}
