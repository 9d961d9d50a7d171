/** What is printed, on which paper, at which scale: sentences with blanks. */
import { roamerSquareM } from "../../core/sheet/furniture/roamer.ts";
import { PAPERS, type PaperName } from "../../core/sheet/page/paper-size.ts";
import { SHEET_PARTS, SHEET_WAYS, type SheetPart, USUAL_SCALES } from "../../core/sheet/sheet-job.ts";
import { Fault } from "../../core/fault.ts";
import { formatUpTo, typedNumber } from "../../core/units/format.ts";
import { parseLength } from "../../core/units/length.ts";
import { formatScale, millimetresPerKm, parseScale } from "../../core/units/scale.ts";
import { settings } from "../app/settings.ts";
import { Choice, Entry, Radio } from "../settings/entry.tsx";
import { printWords } from "../words/print-words.ts";
import { choices, choose, frames, hasLeg, placing, plans } from "./print-state.ts";
import { CardChoices } from "./card-choices.tsx";
import { HandoutChoices } from "./handout-choices.tsx";
import { TableChoices } from "./table-choices.tsx";
import { Tick } from "./tick.tsx";

const { what, paper, sheets, show } = printWords;

/** A page of one part alone cannot be looked for among parts that need a leg. */
const WITHOUT_LEG: ReadonlySet<SheetPart> = new Set<SheetPart>(["sheets"]);

export function Choices() {
  const { parts } = choices.value;
  return (
    <>
      <What />
      <Paper />
      {parts.includes("sheets") && <Sheets />}
      {parts.includes("sheets") && <OnSheets />}
      {["table", "handout", "answers"].some((part) => parts.includes(part as SheetPart)) && <TableChoices />}
      {["handout", "answers"].some((part) => parts.includes(part as SheetPart)) && <HandoutChoices />}
      {parts.includes("card") && <CardChoices />}
    </>
  );
}

/** Papers that tell odds and ways out where they were worked out. */
const TELL_ADVICE: readonly SheetPart[] = ["table", "card", "pocket"];

function What() {
  const { parts, advice } = choices.value;
  const turn = (part: SheetPart, on: boolean): void =>
    choose({ parts: SHEET_PARTS.filter((one) => (one === part ? on : parts.includes(one))) });
  return (
    <fieldset class="print-part">
      <legend>{what.heading}</legend>
      {SHEET_PARTS.map((part) => (
        <Tick
          key={part}
          on={parts.includes(part)}
          turn={(on) => turn(part, on)}
          refusal={hasLeg.value || WITHOUT_LEG.has(part) ? null : what.needsWalk}
          test={`part-${part}`}
        >
          {what.parts[part]}
        </Tick>
      ))}
      {TELL_ADVICE.some((part) => parts.includes(part)) && (
        <Tick on={advice} turn={(on) => choose({ advice: on })} test="advice">
          {what.advice}
        </Tick>
      )}
    </fieldset>
  );
}

export function Paper() {
  const { paper: name, landscape, large, blackAndWhite } = choices.value;
  return (
    <fieldset class="print-part">
      <legend>{paper.heading}</legend>
      <p>
        {paper.on}{" "}
        <Choice
          label={paper.paper}
          value={name}
          options={(Object.keys(PAPERS) as PaperName[]).map((one) => [one, paper.names[one]])}
          pick={(one) => choose({ paper: one })}
          test="paper"
        />{" "}
        <Choice
          label={paper.lies}
          value={landscape ? "across" : "upright"}
          options={[
            ["upright", paper.upright],
            ["across", paper.across],
          ]}
          pick={(one) => choose({ landscape: one === "across" })}
          test="lies"
        />
        .
      </p>
      <Tick on={large} turn={(on) => choose({ large: on })} test="large">
        {paper.large}
      </Tick>
      <Tick on={blackAndWhite} turn={(on) => choose({ blackAndWhite: on })} test="black-and-white">
        {paper.blackAndWhite}
      </Tick>
    </fieldset>
  );
}

function Sheets() {
  const { scale, way, up, index } = choices.value;
  const now = plans.value;
  const fitting = way === "fit" && frames.value === null;
  const used = fitting && !(now instanceof Fault) ? now.layout.scale : scale;
  return (
    <fieldset class="print-part">
      <legend>{sheets.heading}</legend>
      {SHEET_WAYS.map((one) => (
        <Radio
          key={one}
          name="way"
          chosen={frames.value === null && way === one}
          pick={() => {
            frames.value = null;
            choose({ way: one });
          }}
          test={`way-${one}`}
        >
          {sheets.ways[one]}
        </Radio>
      ))}
      {frames.value && (
        <Radio name="way" chosen pick={() => undefined} test="way-placed">
          {sheets.placed(frames.value.length)}
        </Radio>
      )}
      {way === "strips" && frames.value === null && (
        <p>
          <Choice
            label={sheets.up}
            value={up}
            options={[
              ["leg", sheets.upLeg],
              ["north", sheets.upNorth],
            ]}
            pick={(one) => choose({ up: one })}
            test="up"
          />
        </p>
      )}
      {fitting ? (
        <p data-test="scale-found">
          {sheets.at} <b>{formatScale(used)}</b>. {sheets.perKm(perKm(used))}
        </p>
      ) : (
        <p>
          {sheets.at}{" "}
          <Entry
            label={sheets.scale}
            value={formatScale(scale)}
            take={(text) => choose({ scale: checkedScale(text) })}
            least={10}
            test="scale"
          />{" "}
          <Choice
            label={sheets.usual}
            value=""
            options={[
              ["", sheets.otherScale],
              ...USUAL_SCALES.map((one) => [String(one), formatScale(one)] as const),
            ]}
            pick={(one) => one !== "" && choose({ scale: Number(one) })}
            test="usual-scale"
          />
          <br />
          {sheets.perKm(perKm(used))}
        </p>
      )}
      <p>
        <button
          type="button"
          class="button edged"
          data-test="move-sheets"
          onClick={() => (placing.value = true)}
        >
          {sheets.move}
        </button>
      </p>
      <Tick on={index} turn={(on) => choose({ index: on })} test="index">
        {sheets.index}
      </Tick>
    </fieldset>
  );
}

const perKm = (scale: number): string => formatUpTo(millimetresPerKm(scale), 2);

/** @throws Fault for text that is no scale, or for one no sheet is printed at */
function checkedScale(text: string): number {
  const scale = parseScale(text);
  if (scale >= 100 && scale <= 10_000_000) return scale;
  throw new Fault(
    "bad-argument",
    `A scale of ${formatScale(scale)} cannot be printed.`,
    null,
    "Give one from 1:100 to 1:10 000 000.",
  );
}

function OnSheets() {
  const { grid, gridLines, magneticLinesMm, handrails, backstops, hazards, cone, roamer, scale } =
    choices.value;
  const legs = hasLeg.value ? null : what.needsWalk;
  return (
    <fieldset class="print-part">
      <legend>{show.heading}</legend>
      <Tick on={gridLines} turn={(on) => choose({ gridLines: on })} test="grid-lines">
        {show.gridLines}{" "}
        <Choice
          label={show.grid}
          value={grid?.name ?? ""}
          options={gridNames(grid?.name ?? null)}
          pick={(name) => choose({ grid: settings.value.grids.find((one) => one.name === name) ?? null })}
          test="grid"
        />
      </Tick>
      <Tick
        on={magneticLinesMm !== null}
        turn={(on) => choose({ magneticLinesMm: on ? 40 : null })}
        test="magnetic-lines"
      >
        {show.magneticLead}{" "}
        <Entry
          label={show.magneticEvery}
          value={`${typedNumber(magneticLinesMm ?? 40)} mm`}
          take={(text) => choose({ magneticLinesMm: checkedSpacing(text) })}
          least={5}
          test="magnetic-every"
        />
      </Tick>
      <Tick on={handrails} turn={(on) => choose({ handrails: on })} refusal={legs} test="handrails">
        {show.handrails}
      </Tick>
      <Tick on={backstops} turn={(on) => choose({ backstops: on })} refusal={legs} test="backstops">
        {show.backstops}
      </Tick>
      <Tick on={hazards} turn={(on) => choose({ hazards: on })} refusal={legs} test="hazards">
        {show.hazards}
      </Tick>
      <Tick on={cone} turn={(on) => choose({ cone: on })} refusal={legs} test="cone">
        {show.cone}
      </Tick>
      <Tick on={roamer} turn={(on) => choose({ roamer: on })} refusal={roamerRefusal(scale)} test="roamer">
        {show.roamer}
      </Tick>
    </fieldset>
  );
}

/** The grids of the settings; one chosen for paper and since deleted there is still named. */
function gridNames(chosen: string | null): (readonly [string, string])[] {
  const names = settings.value.grids.map(({ name }) => name);
  const all = chosen === null || names.includes(chosen) ? names : [...names, chosen];
  return [["", show.utm], ...all.map((name) => [name, name] as const)];
}

function roamerRefusal(scale: number): string | null {
  try {
    roamerSquareM(scale);
    return null;
  } catch (thrown) {
    return Fault.from(thrown).what;
  }
}

/** @throws Fault for what is no distance on paper */
function checkedSpacing(text: string): number {
  const mm = Math.round(parseLength(text, "mm") * 1e5) / 100;
  if (mm >= 5 && mm <= 500) return mm;
  throw new Fault("bad-argument", `“${text}” is no distance between lines.`, null, "Give 5 to 500 mm.");
}
