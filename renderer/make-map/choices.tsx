/** What a person chooses besides the files. */
import { Fault } from "../../core/fault.ts";
import { lengthUnit } from "../app/settings.ts";
import { isMetric } from "../../core/units/format.ts";
import { mapWords } from "../words/map-words.ts";
import { heightUnit, survey, surveyAgain } from "./data-files.ts";
import { type Fields, fields, setField } from "./order.ts";

const { making: say } = mapWords;
const DERIVED = ["streams", "ridges", "spotHeights", "cliffs"] as const;

export function Choices() {
  const now = fields.value;
  return (
    <div class="make-choices">
      <Text field="title" label={say.name} />
      <fieldset>
        <legend>{say.area}</legend>
        <Radio label={say.whole} chosen={now.whole} name="area" pick={() => setField({ whole: true })} />
        <Radio label={say.part} chosen={!now.whole} name="area" pick={() => setField({ whole: false })} />
        {!now.whole && (
          <>
            <Text field="southWest" label={say.southWest} />
            <Text field="northEast" label={say.northEast} />
            <p class="soft">{say.cornerHint}</p>
          </>
        )}
      </fieldset>
      <Contours now={now} />
      <fieldset>
        <legend>{say.derive}</legend>
        {DERIVED.map((what) => (
          <label key={what} class="tick-choice">
            <input
              type="checkbox"
              checked={now.derive[what]}
              onChange={(event) =>
                setField({ derive: { ...fields.peek().derive, [what]: event.currentTarget.checked } })
              }
            />
            {say.derived[what]}
          </label>
        ))}
        <p class="soft">{say.deriveHint}</p>
      </fieldset>
      <fieldset>
        <legend>{say.heightsIn}</legend>
        <label class="stacked">
          <span>{say.heightUnit}</span>
          <select
            class="field"
            value={heightUnit.value ?? ""}
            onChange={(event) => {
              const { value } = event.currentTarget;
              heightUnit.value = value === "m" || value === "ft" ? value : null;
              void surveyAgain();
            }}
          >
            <option value="">{say.asFileSays}</option>
            <option value="m">{say.metres}</option>
            <option value="ft">{say.feet}</option>
          </select>
        </label>
        <label class="tick-choice">
          <input
            type="checkbox"
            checked={now.fill}
            onChange={(event) => setField({ fill: event.currentTarget.checked })}
          />
          {say.fill}
        </label>
        {now.fill && (
          <>
            <Text field="fillCells" label={say.cells} />
            <p class="soft">{say.fillHint}</p>
          </>
        )}
      </fieldset>
      <div>
        <Text field="attribution" label={say.attribution} />
        <p class="soft">{say.attributionHint}</p>
      </div>
    </div>
  );
}

function Contours({ now }: { readonly now: Fields }) {
  const found = survey.value;
  const automatic = found && !(found instanceof Fault) ? found.automatic : null;
  return (
    <fieldset>
      <legend>{say.interval}</legend>
      <Radio
        name="interval"
        label={
          automatic
            ? say.automaticIs(
                isMetric(lengthUnit.value)
                  ? `${automatic.m} m`
                  : `${automatic.m} m (set in feet: ${automatic.ft} ft)`,
              )
            : say.automatic
        }
        chosen={now.automatic}
        pick={() => setField({ automatic: true })}
      />
      <span class="interval-set">
        <Radio
          name="interval"
          label={say.set}
          chosen={!now.automatic}
          pick={() => setField({ automatic: false })}
        />
        <input
          class="field"
          size={5}
          inputMode="decimal"
          aria-label={say.set}
          data-test="make-interval"
          value={now.interval}
          onInput={(event) => setField({ interval: event.currentTarget.value, automatic: false })}
        />
        <select
          class="field"
          aria-label={say.unit}
          value={now.unit}
          onChange={(event) =>
            setField({ unit: event.currentTarget.value === "ft" ? "ft" : "m", automatic: false })
          }
        >
          <option value="m">m</option>
          <option value="ft">ft</option>
        </select>
      </span>
    </fieldset>
  );
}

function Radio(props: {
  readonly label: string;
  readonly name: string;
  readonly chosen: boolean;
  readonly pick: () => void;
}) {
  return (
    <label class="tick-choice">
      <input type="radio" name={props.name} checked={props.chosen} onChange={props.pick} />
      {props.label}
    </label>
  );
}

type TextField = "title" | "attribution" | "southWest" | "northEast" | "fillCells";

function Text({ field, label }: { readonly field: TextField; readonly label: string }) {
  return (
    <label class="stacked">
      <span>{label}</span>
      <input
        class="field"
        value={fields.value[field]}
        data-test={`make-${field}`}
        autocomplete="off"
        spellcheck={false}
        onInput={(event) => setField({ [field]: event.currentTarget.value })}
      />
    </label>
  );
}
