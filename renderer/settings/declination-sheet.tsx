/** The two declinations side by side, brought to the day of the walk, and which of them rules. */
import { useState } from "preact/hooks";
import { MODEL_YEARS } from "../../core/geodesy/magnetic-model.ts";
import { printedDeclinationOn, type PrintedNorth } from "../../core/geodesy/printed-declination.ts";
import { comparisonNotes, declinationsAt } from "../../core/legs/norths/declinations.ts";
import type { DeclinationFigure } from "../../core/legs/figures.ts";
import { formatEastWest, formatNumber } from "../../core/units/format.ts";
import { setDeclination } from "../../core/walk/edits.ts";
import type { WalkDeclination } from "../../core/walk/walk.ts";
import { walk } from "../walk-state/walk-document.ts";
import { settingsWords } from "../words/settings-words.ts";
import { DayField } from "../app/day-field.tsx";
import { Radio } from "./entry.tsx";
import { PrintedBlanks } from "./printed-blanks.tsx";
import { type PreviewLeg, previewLeg } from "./preview-leg.ts";
import { entryOf, type PrintedEntry, readPrinted, samePrinted } from "./printed-entry.ts";
import { changeWalk } from "./walk-change.ts";

const words = settingsWords.declination;

const change = (step: string, part: Partial<WalkDeclination>): void =>
  changeWalk(step, (now) => setDeclination(now, { ...now.declination, ...part }));

export function DeclinationSheet() {
  const preview = previewLeg.value;
  return (
    <>
      <p class="sum">
        {words.day} <DayField class="blank" label={words.dayLabel} test="settings-date" />
        {words.dayEnd}
      </p>
      {preview ? <Both preview={preview} /> : <p class="soft">{settingsWords.preview.working}</p>}
      <p class="whose soft">{settingsWords.ofWalk}</p>
    </>
  );
}

function Both({ preview }: { readonly preview: PreviewLeg }) {
  const { date, declination: choice } = walk.value;
  const { declination } = preview.all;
  // What is typed holds only over the figures it was typed over: undo, or another walk, brings theirs.
  const [typed, setTyped] = useState<{
    readonly entry: PrintedEntry;
    readonly over: PrintedNorth | null;
  } | null>(null);
  const entry = typed?.over === choice.printed && typed ? typed.entry : entryOf(choice.printed);
  const reading = readPrinted(entry);
  const take = (now: PrintedEntry): void => {
    const { printed, empty, faults } = readPrinted(now);
    if (Object.keys(faults).length > 0 || samePrinted(printed, choice.printed)) return;
    if (printed) change(settingsWords.steps.printed, { printed });
    else if (empty) change(settingsWords.steps.printed, { printed: null, use: "model" });
    else return;
    setTyped(null);
  };
  // As typed, before it is taken, so that one sees what it comes to.
  const convergence = declination.gridConvergenceDeg ?? 0;
  const printedDeg = reading.printed && printedDeclinationOn(reading.printed, date, convergence).deg;
  const apart =
    printedDeg === null || declination.modelDeg === null ? null : Math.abs(printedDeg - declination.modelDeg);
  return (
    <>
      <fieldset class="two-declinations">
        <legend class="unseen">{words.rules}</legend>
        <ModelCard figure={declination} preview={preview} />
        <section class={`declination-card ${choice.use === "printed" ? "ruling" : ""}`}>
          <h3>{words.printed}</h3>
          <p class="declination-value" data-test="printed-today">
            {formatEastWest(printedDeg)}
          </p>
          <PrintedBlanks
            entry={entry}
            reading={reading}
            change={(now) => setTyped({ entry: now, over: choice.printed })}
            take={take}
          />
          <Radio
            name="rules"
            chosen={choice.use === "printed"}
            pick={() => change(settingsWords.steps.rules, { use: "printed" })}
            refusal={choice.printed ? null : words.printedMissing}
            test="rules-printed"
          >
            {words.printedRules}
          </Radio>
        </section>
      </fieldset>
      {apart !== null && <p data-test="declination-apart">{words.apart(`${formatNumber(apart, 1)}°`)}</p>}
      <Compared preview={preview} />
      <Beyond figure={declination} />
    </>
  );
}

function ModelCard({
  figure,
  preview,
}: {
  readonly figure: DeclinationFigure;
  readonly preview: PreviewLeg;
}) {
  const { declination: choice } = walk.value;
  const { model, modelMissing } = ofModel(preview);
  const zone = figure.zone === null ? null : words.zones[figure.zone];
  return (
    <section class={`declination-card ${choice.use === "model" ? "ruling" : ""}`}>
      <h3>{words.model}</h3>
      <p class="declination-value" data-test="model-today">
        {formatEastWest(figure.modelDeg)}
        {figure.modelUncertaintyDeg !== null && (
          <small> ± {formatNumber(figure.modelUncertaintyDeg, 1)}°</small>
        )}
      </p>
      {figure.modelDeg === null ? (
        <p class="entry-fault" data-test="model-missing">
          {modelMissing}
        </p>
      ) : (
        <p class="soft">
          {words.modelFrom(
            [figure.model, figure.beyondModel && words.marked].filter(Boolean).join(", "),
            formatEastWest(model?.annualChangeDeg, 2),
          )}
        </p>
      )}
      {zone && <p class="entry-fault">{zone}</p>}
      <Radio
        name="rules"
        chosen={choice.use === "model"}
        pick={() => change(settingsWords.steps.rules, { use: "model" })}
        test="rules-model"
      >
        {words.modelRules}
      </Radio>
    </section>
  );
}

/** The model at the leg: why there is none, and its own yearly change, whichever rules. */
const ofModel = ({ leg }: PreviewLeg) =>
  declinationsAt(leg.fromLonLat, null, leg.gridConvergenceDeg ?? 0, walk.value);

function Compared({ preview }: { readonly preview: PreviewLeg }) {
  return comparisonNotes(ofModel(preview)).map((note) => (
    <p key={note} class="entry-fault" data-test="declination-note">
      {note}
    </p>
  ));
}

/** Only where it matters: on a day outside the model's years, or when it was chosen already. */
function Beyond({ figure }: { readonly figure: DeclinationFigure }) {
  const { beyondModel } = walk.value.declination;
  const { beyond, within } = settingsWords.steps;
  if (figure.modelDeg !== null && !figure.beyondModel && !beyondModel) return null;
  return (
    <label class="radio-line">
      <input
        type="checkbox"
        checked={beyondModel}
        data-test="beyond-model"
        onChange={({ currentTarget: { checked } }) =>
          change(checked ? beyond : within, { beyondModel: checked })
        }
      />
      <span>
        {words.dates(MODEL_YEARS.from, MODEL_YEARS.until - 1)} {words.beyond}
      </span>
    </label>
  );
}
