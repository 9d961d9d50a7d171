/** A bearing from where one stands, and what else the ground tells there: height, slope, the way it faces. */
import { fixWords } from "../words/fix-words.ts";
import { BearingField } from "./bearing-field.tsx";
import { FaultLine, PlaceField } from "./place-field.tsx";
import { changeClues, readGround, readSight, shownClues } from "./seen.ts";

export function SightField() {
  const { sight } = shownClues.value;
  const change = (part: Partial<typeof sight>): void => changeClues({ sight: { ...sight, ...part } });
  return (
    <div class="fix-group">
      <span class="fix-line">
        <BearingField
          test={["sight", "sight-north"]}
          label={fixWords.sight}
          bearing={sight.bearing}
          north={sight.north}
          change={change}
        />
        <span class="soft">{fixWords.way.resect}</span>
      </span>
      <PlaceField
        id="sight-known"
        label={fixWords.sightKnown}
        value={sight.known}
        change={(known) => change({ known })}
      />
      <FaultLine of={readSight.value} />
    </div>
  );
}

export function GroundFields() {
  const { height, slope, facing, facingNorth } = shownClues.value;
  return (
    <div class="fix-group">
      {(
        [
          ["height", height],
          ["slope", slope],
        ] as const
      ).map(([what, value]) => (
        <label key={what} class="fix-line">
          <span class="fix-lead">{fixWords.clues[what]}</span>
          <input
            class="field fix-bearing"
            type="text"
            autocomplete="off"
            placeholder={fixWords.clueHints[what]}
            value={value}
            data-test={`fix-${what}`}
            onInput={(event) => changeClues({ [what]: event.currentTarget.value })}
          />
        </label>
      ))}
      <span class="fix-line">
        <span class="fix-lead">{fixWords.clues.facing}</span>
        <BearingField
          test={["facing", "facing-north"]}
          label={fixWords.clues.facing}
          bearing={facing}
          north={facingNorth}
          change={({ bearing = facing, north = facingNorth }) =>
            changeClues({ facing: bearing, facingNorth: north })
          }
        />
      </span>
      <FaultLine of={readGround.value} />
    </div>
  );
}
