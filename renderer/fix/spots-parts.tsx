/** On a line of the map, and back on track: what is asked, and the likely places in order. */
import { useState } from "preact/hooks";
import { Fault } from "../../core/fault.ts";
import { kindAndName, kindWord } from "../../core/legs/line-kinds.ts";
import { openMap } from "../map-case/map-case.ts";
import { fixWords } from "../words/fix-words.ts";
import { GroundFields, SightField } from "./clues-part.tsx";
import { fixDone } from "./fix-state.ts";
import { LegsPart } from "./legs-part.tsx";
import { FaultLine, PlaceField } from "./place-field.tsx";
import { Said } from "./said.tsx";
import { anyLine, line, linePlace, shownClues, stoodAt } from "./seen.ts";
import { SpotList } from "./spot-list.tsx";
import { question, spots } from "./spots-state.ts";
import { STOOD_AT } from "./stood-at.ts";
import { next, orUpTo, readNext, readUpTo } from "./walked.ts";

const waiting = (asked: string): string =>
  openMap.value === null ? fixWords.noMap : question.value ? fixWords.working : asked;

const setting = (of: { value: string }) => (text: string) => {
  fixDone.value = null;
  of.value = text;
};

/** What was written for another way counts here too: then it is not folded away. As it was when the part was chosen. */
function useWritten(all: boolean): boolean {
  const [open] = useState(() => {
    const { sight, height, slope, facing } = shownClues.peek();
    const texts = [height, slope, facing, ...(all ? [sight.bearing, sight.known, orUpTo.peek()] : [])];
    return texts.some((text) => text.trim() !== "");
  });
  return open;
}

export function OnLinePart() {
  const stood = line.value;
  return (
    <>
      <PlaceField
        id="line"
        label={fixWords.line}
        lead={fixWords.line}
        value={linePlace.value}
        change={setting(linePlace)}
      />
      <FaultLine of={stood} />
      {stood && !(stood instanceof Fault) && (
        <div class="fix-group">
          <p data-test="fix-line-is">{fixWords.lineIs(kindAndName(stood.kind, stood.name))}</p>
          <label class="fix-line">
            <input
              type="checkbox"
              checked={anyLine.value}
              data-test="fix-any-line"
              onChange={(event) => (anyLine.value = event.currentTarget.checked)}
            />
            {fixWords.anyLine(kindWord(stood.kind))}
          </label>
        </div>
      )}
      <SightField />
      <details class="fix-more" open={useWritten(false)}>
        <summary data-test="fix-more">{fixWords.more}</summary>
        <GroundFields />
      </details>
      <Said found={spots.value} waiting={waiting(fixWords.waitingLine)} />
      <SpotList />
    </>
  );
}

export function TrackPart() {
  return (
    <>
      <LegsPart />
      <label class="fix-line">
        <span class="fix-lead">{fixWords.standAt}</span>
        <select
          class="field"
          value={stoodAt.value}
          data-test="fix-stood-at"
          onChange={(event) => (stoodAt.value = Number(event.currentTarget.value))}
        >
          {STOOD_AT.map((kinds, i) => (
            <option key={i} value={i}>
              {kinds.map(kindWord).join(` ${fixWords.or} `)}
            </option>
          ))}
        </select>
      </label>
      <PlaceField
        id="next"
        label={fixWords.next}
        lead={fixWords.next}
        value={next.value}
        change={setting(next)}
      />
      <FaultLine of={readNext.value} />
      <details class="fix-more" open={useWritten(true)}>
        <summary data-test="fix-more">{fixWords.more}</summary>
        <p class="soft">{fixWords.orUpToHint}</p>
        <PlaceField
          id="or-up-to"
          label={fixWords.orUpTo}
          lead={fixWords.orUpTo}
          value={orUpTo.value}
          change={setting(orUpTo)}
        />
        <FaultLine of={readUpTo.value} />
        <SightField />
        <GroundFields />
      </details>
      <Said found={spots.value} waiting={waiting(fixWords.waitingTrack)} />
      <SpotList />
    </>
  );
}
