/** What of the walk goes along, and the dialect of a table. */
import type { Dialect } from "../../core/exchange/write-csv.ts";
import { Tick } from "../print/tick.tsx";
import { walk } from "../walk-state/walk-document.ts";
import { exchangeWords } from "../words/exchange-words.ts";
import { entries, LabelledChoice } from "./choice.tsx";
import { dialect, format, isTable, type PartChoices, parts } from "./export-state.ts";

const { out: say, in: also } = exchangeWords;

export function ExportParts() {
  const now = parts.value;
  const gpx = format.value === "gpx";
  const needsLeg = walk.value.points.length < 2 ? say.needsLeg : null;
  const part = (id: keyof PartChoices, text: string, refusal: string | null = null) => (
    <Tick
      on={now[id] && refusal === null}
      turn={(on) => (parts.value = { ...parts.peek(), [id]: on })}
      refusal={refusal}
      test={`part-${id}`}
    >
      {text}
    </Tick>
  );
  return (
    <>
      <fieldset class="exchange-part">
        <legend>{say.parts}</legend>
        <div class="candidates">
          {!isTable.value && (
            <>
              {part("points", gpx ? say.points.gpx : say.points.other)}
              {part("legs", gpx ? say.legs.gpx : say.legs.other)}
              {part("track", gpx ? say.track.gpx : say.track.other, needsLeg)}
            </>
          )}
          {part("heights", say.heights, needsLeg)}
          {part("notes", say.notes)}
        </div>
      </fieldset>
      {isTable.value && <DialectChoices />}
    </>
  );
}

function DialectChoices() {
  const now = dialect.value;
  const set = (change: Partial<Dialect>): void => {
    dialect.value = { ...dialect.peek(), ...change };
  };
  return (
    <fieldset class="exchange-part">
      <legend>{say.dialect}</legend>
      <div class="reading-as">
        {format.value === "csv" && (
          <LabelledChoice
            label={also.separator}
            value={now.separator}
            options={entries(also.separators).filter(
              ([one]) => one !== "" && !(one === "," && now.decimal === ","),
            )}
            pick={(value) => set({ separator: value as Dialect["separator"] })}
            test="out-separator"
          />
        )}
        <LabelledChoice
          label={also.decimal}
          value={now.decimal}
          options={entries(also.decimals).filter(([one]) => one !== "")}
          pick={(value) =>
            set({
              decimal: value as Dialect["decimal"],
              // A comma cannot be both: the usual pair is taken.
              ...(value === "," && dialect.peek().separator === "," ? { separator: ";" as const } : {}),
            })
          }
          test="out-decimal"
        />
        <LabelledChoice
          label={say.lineEnd}
          value={now.lineEnd}
          options={entries(say.lineEnds)}
          pick={(value) => set({ lineEnd: value as Dialect["lineEnd"] })}
        />
        <Tick on={now.bom} turn={(bom) => set({ bom })} test="out-bom">
          {say.bom}
        </Tick>
      </div>
    </fieldset>
  );
}
