/** A map of the case: what it is, and what can be done with it. */
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { MapEntry } from "../../electron/contract.ts";
import { runCommand } from "../app/commands.ts";
import { lengthUnit, settings } from "../app/settings.ts";
import { theme } from "../theme/theme.ts";
import { today } from "../walk-state/today.ts";
import { faultWords } from "../words/fault-words.ts";
import { mapWords } from "../words/map-words.ts";
import { sheetWords } from "../words/sheet-words.ts";
import { words } from "../words/words.ts";
import { findAgain, removeMap, renameMap, revealMap } from "./case-actions.ts";
import { openMap, openMapAgain, shownMap, shownSheet, staleFiles } from "./map-case.ts";
import { ageText, modelText, placeText, sizeText } from "./map-facts.ts";
import { GroundField } from "./ground-field.tsx";
import { PREVIEW_PX, previewOf } from "./preview.ts";

interface Props {
  readonly entry: MapEntry;
  readonly open: (id: string) => void;
}

export function MapRow({ entry, open }: Props) {
  const [naming, setNaming] = useState(false);
  const [place, setPlace] = useState<string | null>(null);
  const { title, fault } = entry;
  const isOpen = shownMap.value?.id === entry.id;
  const isGround = shownSheet.value !== null && openMap.value?.opened.id === entry.id;
  const isStale = (isOpen || isGround) && fault === null && staleFiles.value.has(entry.fileName);
  const canOpen = fault === null;
  return (
    <li
      class={`map-row ${isOpen ? "is-open" : ""}`}
      data-test="map-row"
      aria-current={isOpen ? "true" : undefined}
    >
      <Preview entry={entry} />
      <div class="map-facts">
        <h3>
          {title}
          {isOpen && <span class="soft"> · {mapWords.isOpen}</span>}
          {isGround && <span class="soft"> · {sheetWords.isGround}</span>}
        </h3>
        {naming ? <NameField entry={entry} done={() => setNaming(false)} /> : <Facts entry={entry} />}
        {canOpen && entry.pictures !== null && <GroundField sheet={entry} />}
        {place !== null && <p role="status">{mapWords.lies(place)}</p>}
        <div class="map-actions">
          {canOpen && !isOpen && (
            <button
              type="button"
              class="button edged"
              data-test="open-map"
              aria-label={mapWords.openTitle(title)}
              onClick={() => open(entry.id)}
            >
              {mapWords.open}
            </button>
          )}
          {isStale && (
            <button
              type="button"
              class="button edged"
              data-test="open-again"
              aria-label={faultWords.openAgainTitle(title)}
              onClick={() => void openMapAgain()}
            >
              {faultWords.openAgain}
            </button>
          )}
          {fault && (
            <button
              type="button"
              class="button edged"
              aria-label={mapWords.findAgainTitle(title)}
              onClick={() => void findAgain(entry)}
            >
              {mapWords.findAgain}
            </button>
          )}
          {(isOpen || isGround) && entry.pictures === null && (
            <button type="button" class="button" onClick={() => runCommand("roles")}>
              {mapWords.layers}
            </button>
          )}
          <button
            type="button"
            class="button"
            aria-label={mapWords.renameTitle(title)}
            aria-expanded={naming}
            onClick={() => setNaming(!naming)}
          >
            {mapWords.rename}
          </button>
          {fault?.code !== "no-file" && (
            <button
              type="button"
              class="button"
              aria-label={mapWords.revealTitle(title)}
              onClick={() => void revealMap(entry).then(setPlace)}
            >
              {mapWords.reveal}
            </button>
          )}
          <button
            type="button"
            class="button"
            aria-label={mapWords.removeTitle(title)}
            onClick={() => void removeMap(entry)}
          >
            {mapWords.remove}
          </button>
        </div>
      </div>
    </li>
  );
}

function Preview({ entry }: { readonly entry: MapEntry }) {
  // Undefined while it is drawn.
  const [url, setUrl] = useState<string | null | undefined>(undefined);
  const shown = theme.value;
  useEffect(() => {
    let wanted = true;
    setUrl(entry.fault ? null : undefined);
    if (!entry.fault) void previewOf(entry, shown).then((found) => wanted && setUrl(found));
    return () => {
      wanted = false;
    };
  }, [entry.id, entry.tag, shown]);
  if (!url) return <span class="map-preview soft">{url === null && mapWords.noPreview}</span>;
  return <img class="map-preview" src={url} alt={mapWords.preview(entry.title)} {...PREVIEW_PX} />;
}

function Facts({ entry }: { readonly entry: MapEntry }) {
  const { bounds, interval, fault } = entry;
  const { notation, grids, gridName } = settings.value;
  const day = today();
  if (fault)
    return (
      <>
        <p class="map-fault" data-test="map-fault">
          {fault.code === "no-file" ? mapWords.missing : [fault.what, fault.remedy].filter(Boolean).join(" ")}
        </p>
        <p class="soft">{entry.fileName}</p>
      </>
    );
  const wording = { notation, grids: { grids, gridName }, unit: lengthUnit.value, today: day };
  const model = bounds && modelText(bounds, day);
  const details = [
    entry.pictures === null &&
      (interval ? mapWords.interval(interval.value, interval.unit) : mapWords.noInterval),
    entry.pictures === null && (entry.hasTerrain ? mapWords.terrain : mapWords.noTerrain),
  ].filter(Boolean);
  return (
    <>
      {entry.invented && <p class="map-note">{mapWords.invented}</p>}
      {entry.pictures !== null && <p class="map-note">{mapWords.sheet}</p>}
      {bounds && <p>{placeText(bounds, wording)}</p>}
      {details.length > 0 && <p>{details.join(" · ")}</p>}
      <p class="soft">
        {[entry.source ? mapWords.source(entry.source) : mapWords.noSource, ageText(entry, day)]
          .filter(Boolean)
          .join(" · ")}
      </p>
      <p class="soft">
        {mapWords.fileLine(entry, sizeText(entry.sizeBytes))}
        {entry.ownTitle !== null && ` · ${mapWords.calledInFile(entry.ownTitle)}`}
      </p>
      {model && <p class={model.warns ? "map-fault" : "soft"}>{model.text}</p>}
    </>
  );
}

function NameField({ entry, done }: { readonly entry: MapEntry; readonly done: () => void }) {
  const [name, setName] = useState(entry.title);
  const field = useRef<HTMLInputElement>(null);
  useLayoutEffect(() => field.current?.select(), []);
  return (
    <form
      class="map-name"
      onSubmit={(event) => {
        event.preventDefault();
        void renameMap(entry, name).then(done);
      }}
    >
      <label class="stacked">
        <span>{mapWords.newName}</span>
        <input
          class="field"
          value={name}
          maxLength={200}
          ref={field}
          data-test="map-name"
          onInput={(event) => setName(event.currentTarget.value)}
        />
      </label>
      <p class="soft">{mapWords.renameHint}</p>
      <div class="map-actions">
        <button type="submit" class="button edged">
          {mapWords.keepName}
        </button>
        <button type="button" class="button" onClick={done}>
          {words.dialogs.cancel}
        </button>
      </div>
    </form>
  );
}
