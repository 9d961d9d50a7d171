/** Paces to 100 m on the flat and on slopes, and the trials they come from. */
import { typedNumber } from "../../core/units/format.ts";
import { setPace } from "../../core/walk/edits.ts";
import type { WalkPace } from "../../core/walk/walk.ts";
import { walk } from "../walk-state/walk-document.ts";
import { settingsWords } from "../words/settings-words.ts";
import { Choice, Entry } from "./entry.tsx";
import { countedBy } from "./pace-trials.ts";
import { readNumber } from "./read-entry.ts";
import { Trials } from "./trials.tsx";
import { changeWalk } from "./walk-change.ts";

const words = settingsWords.pace;

const change = (part: (pace: WalkPace) => WalkPace): void =>
  changeWalk(settingsWords.steps.pace, (now) => setPace(now, part(now.pace)));

/** An empty blank takes the count of the flat. */
const onSlope = (text: string): number | null => (text.trim() === "" ? null : readNumber(text, "72"));
const shown = (count: number | null): string => (count === null ? "" : typedNumber(count));

export function PaceSheet() {
  const { per100m, upPer100m, downPer100m, steps } = walk.value.pace;
  return (
    <>
      <p class="sum">
        {words.count}{" "}
        <Choice
          label={words.steps}
          value={steps === 2 ? "2" : "1"}
          options={[
            ["2", words.stepsOf[2]],
            ["1", words.stepsOf[1]],
          ]}
          pick={(one) => change((pace) => countedBy(pace, one === "2" ? 2 : 1))}
          test="pace-steps"
        />{" "}
        {words.asPace}{" "}
        <Entry
          label={words.flat}
          value={shown(per100m)}
          take={(text) => {
            const count = readNumber(text, "65");
            change((pace) => ({ ...pace, per100m: count }));
          }}
          test="pace-flat"
        />{" "}
        {words.flatEnd}{" "}
        <Entry
          label={words.up}
          value={shown(upPer100m)}
          placeholder={words.asFlat}
          take={(text) => {
            const count = onSlope(text);
            change((pace) => ({ ...pace, upPer100m: count }));
          }}
          test="pace-up"
        />{" "}
        {words.upEnd}{" "}
        <Entry
          label={words.down}
          value={shown(downPer100m)}
          placeholder={words.asFlat}
          take={(text) => {
            const count = onSlope(text);
            change((pace) => ({ ...pace, downPer100m: count }));
          }}
          test="pace-down"
        />{" "}
        {words.downEnd}
      </p>
      <p class="whose soft">{settingsWords.ofWalk}</p>
      <Trials />
      <p class="whose soft">{settingsWords.ofPerson}</p>
    </>
  );
}
