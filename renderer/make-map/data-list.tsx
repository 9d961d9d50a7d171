/** Files of one kind: what each is, and its fault. */
import { formatLength } from "../../core/units/format.ts";
import type { DataKind, DataLook } from "../../electron/contract.ts";
import { Fault } from "../../core/fault.ts";
import type { Role } from "../../core/map/kinds.ts";
import { sayFault } from "../app/notices.ts";
import { lengthUnit, settings } from "../app/settings.ts";
import { placeText, sizeText } from "../map-case/map-facts.ts";
import { pickData } from "../map-case/take-files.ts";
import { today } from "../walk-state/today.ts";
import { mapWords } from "../words/map-words.ts";
import { rolesWords } from "../words/roles-words.ts";
import { addDataFiles, crsTyped, type DataFile, filesOf, lookAgain, leaveOut } from "./data-files.ts";

const { making: say } = mapWords;

export function DataList({ as }: { readonly as: DataKind }) {
  const files = filesOf(as);
  const needsCrs =
    crsTyped.value[as] !== "" || files.some(({ look }) => look instanceof Fault && look.code === "no-crs");
  const add = async (): Promise<void> => {
    try {
      await addDataFiles(await pickData(as), as);
    } catch (thrown) {
      sayFault(thrown);
    }
  };
  return (
    <section class="data-list" aria-label={say[as]}>
      <h3>{say[as]}</h3>
      <p class="soft">{as === "elevation" ? say.elevationHint : say.featuresHint}</p>
      <ul>
        {files.map((file) => (
          <Row key={file.handle.id} file={file} />
        ))}
      </ul>
      <button type="button" class="button edged" data-test={`add-${as}`} onClick={() => void add()}>
        {as === "elevation" ? say.addElevation : say.addFeatures}
      </button>
      {needsCrs && (
        <label class="stacked">
          <span>{as === "elevation" ? say.crsOfElevation : say.crsOfFeatures}</span>
          <input
            class="field"
            value={crsTyped.value[as]}
            data-test={`crs-${as}`}
            spellcheck={false}
            onChange={(event) => {
              crsTyped.value = { ...crsTyped.peek(), [as]: event.currentTarget.value };
              void lookAgain(as);
            }}
          />
          <span class="soft">{say.crsHint}</span>
        </label>
      )}
    </section>
  );
}

function Row({ file: { handle, look } }: { readonly file: DataFile }) {
  return (
    <li class="data-row" data-test="data-row">
      <div>
        <b>{handle.name}</b>
        {look === null ? (
          <p role="status" class="soft">
            {say.looking}
          </p>
        ) : look instanceof Fault ? (
          <p class="map-fault">
            {look.code === "no-crs" ? say.noCrs : [look.what, look.remedy].filter(Boolean).join(" ")}
          </p>
        ) : (
          <Seen look={look} />
        )}
      </div>
      <button
        type="button"
        class="button"
        aria-label={say.take(handle.name)}
        onClick={() => void leaveOut(handle.id)}
      >
        {say.leaveOut}
      </button>
    </li>
  );
}

function Seen({ look }: { readonly look: DataLook }) {
  const { notation, grids, gridName } = settings.value;
  const wording = { notation, grids: { grids, gridName }, unit: lengthUnit.value, today: today() };
  const onMap = Object.entries(look.onMap).map(
    ([role, count]) => `${rolesWords.roles[role as Role]} ${count}`,
  );
  const what =
    look.as === "elevation"
      ? [
          look.samples &&
            look.cellM !== null &&
            say.model(look.samples[0], look.samples[1], formatLength(look.cellM, lengthUnit.value)),
        ]
      : look.features === null
        ? [say.tooLarge]
        : [
            say.count(look.features),
            onMap.length > 0 ? onMap.join(", ") : say.nothingOnMap,
            look.unknown > 0 && say.unknown(look.unknown),
          ];
  return (
    <>
      <p>{[...what, sizeText(look.sizeBytes), look.crs && say.crs(look.crs)].filter(Boolean).join(" · ")}</p>
      {look.bounds && <p class="soft">{placeText(look.bounds, wording)}</p>}
      {look.notes.map((note) => (
        <p key={note} class="soft">
          {note}
        </p>
      ))}
    </>
  );
}
