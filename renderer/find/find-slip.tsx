/** The find slip: one field, what it was understood as, and two things to do with it. Keyboard first. */
import { createPortal } from "preact/compat";
import { useId } from "preact/hooks";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { isMetric } from "../../core/units/format.ts";
import { pointLetter } from "../../core/walk/walk.ts";
import { type Item, keysOf, keyText, refusalOf, run } from "../app/command.ts";
import { everyItem } from "../app/menu-table.ts";
import { lengthUnit } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { mapView } from "../map/view-state.ts";
import { walk } from "../walk-state/walk-document.ts";
import { findWords } from "../words/find-words.ts";
import "./find.css";
import {
  addLooked,
  cannotGo,
  closeFind,
  findChoice,
  findDone,
  findOpen,
  findText,
  foundPlace,
  goThere,
  looked,
  typeToFind,
  understanding,
} from "./find-state.ts";
import { matchCommands } from "./match-commands.ts";
import { FoundMark } from "./found-mark.tsx";
import { PlaceDetail } from "./place-detail.tsx";

export function FindSlip() {
  const map = mapView.value;
  const found = foundPlace.value;
  return (
    <>
      {findOpen.value && <Slip />}
      {map &&
        found &&
        createPortal(
          <div class="on-map">
            <FoundMark key={found.lonLat.join()} map={map} place={found} />
          </div>,
          map.getCanvasContainer(),
        )}
    </>
  );
}

function Slip() {
  const list = useId();
  const meant = understanding.value;
  const count = meant.kind === "places" ? meant.places.length : 0;
  const commands = count > 0 ? [] : commandsMeant(findText.value);

  const key = (event: KeyboardEvent): void => {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (event.key === "Escape") closeFind();
    else if (
      event.key === "Enter" &&
      event.target instanceof HTMLInputElement &&
      event.target.type === "text"
    )
      pressEnter(event.shiftKey, commands[0]);
    else if (step !== undefined && count > 1 && (event.target as Element).matches(".find-field"))
      findChoice.value = (findChoice.value + step + count) % count;
    else {
      // Keys of the window with Ctrl or Cmd go on to it; plain ones are the slip's own.
      if (!event.ctrlKey && !event.metaKey) event.stopPropagation();
      return;
    }
    event.preventDefault();
    event.stopPropagation();
  };

  return (
    <section class="paper find-slip" aria-label={findWords.label} onKeyDown={key} data-test="find-slip">
      <div class="find-head">
        <input
          class="field find-field"
          type="text"
          role="combobox"
          aria-label={findWords.field}
          aria-expanded={count > 1}
          aria-controls={list}
          aria-autocomplete="list"
          aria-activedescendant={count > 1 ? `${list}-${findChoice.value}` : undefined}
          aria-describedby={`${list}-said`}
          placeholder={findWords.label}
          autocomplete="off"
          spellcheck={false}
          value={findText.value}
          data-test="find-field"
          onInput={(event) => typeToFind(event.currentTarget.value)}
        />
        <button type="button" class="button" onClick={closeFind} title="Esc">
          {findWords.leave}
        </button>
      </div>
      <div class="find-said" id={`${list}-said`} role="status" data-test="find-said">
        <Said />
      </div>
      {looked.value && <Actions />}
      {commands.length > 0 && <Commands items={commands} />}
      {count > 1 && <Choices id={list} />}
      {looked.value && <PlaceDetail place={looked.value} />}
    </section>
  );
}

/** What no place is meant by may be something to do. */
const commandsMeant = (text: string): Item[] => matchCommands(text, everyItem(), nameOf);

const nameOf = ({ name, findName }: Item): string => (findName ?? name)();

function pressEnter(shift: boolean, command: Item | undefined): void {
  if (shift) addLooked();
  else if (looked.value || !command) goThere();
  else doCommand(command);
}

function doCommand(command: Item): void {
  closeFind();
  typeToFind("");
  run(command);
}

function Commands({ items }: { readonly items: readonly Item[] }) {
  return (
    <ul class="find-list find-commands" aria-label={findWords.commands} data-test="find-commands">
      {items.map((item, i) => {
        const refusal = refusalOf(item);
        return (
          <li key={item.id}>
            <button
              type="button"
              class="button"
              aria-disabled={refusal !== null}
              {...(refusal ? { title: refusal } : {})}
              onClick={() => refusal === null && doCommand(item)}
            >
              {nameOf(item)} <kbd>{i === 0 ? "Enter" : (keyText(keysOf(item)[0]) ?? "")}</kbd>
            </button>
          </li>
        );
      })}
    </ul>
  );
}

/** One sentence on what was understood, or why it was not. */
function Said() {
  const meant = understanding.value;
  if (meant.kind === "nothing") return <p class="soft">{findWords.hint}</p>;
  // Rather than say that there is no such place.
  if (meant.kind === "fault" && commandsMeant(findText.value).length > 0)
    return <p class="soft">{findWords.noPlaceButDo}</p>;
  if (meant.kind === "fault")
    return (
      <p class="find-fault">
        {meant.fault.what} {meant.fault.remedy && <span>{meant.fault.remedy}</span>}
      </p>
    );
  const blocked = cannotGo.value;
  return (
    <>
      <p>{looked.value?.readAs}</p>
      {blocked && (
        <p class="find-fault">
          {blocked.off
            ? findWords.offMap(formatAlongFar(blocked.off.distanceM), blocked.off.side)
            : findWords.noMap}
        </p>
      )}
      {findDone.value && <p class="soft">{findDone.value}</p>}
    </>
  );
}

const formatAlongFar = (metres: number): string =>
  metres < 10_000
    ? formatAlong(metres, lengthUnit.value)
    : isMetric(lengthUnit.value)
      ? `${Math.round(metres / 1000)}\u00a0km`
      : `${Math.round(metres / 1609.344)}\u00a0mi`;

function Choices({ id }: { readonly id: string }) {
  const meant = understanding.value;
  if (meant.kind !== "places") return null;
  return (
    <ul class="find-list" role="listbox" id={id} aria-label={findWords.list}>
      {meant.places.map((place, i) => (
        <li
          key={`${place.title} ${place.lonLat.join()}`}
          id={`${id}-${i}`}
          role="option"
          aria-selected={i === findChoice.value}
          class={i === findChoice.value ? "chosen" : ""}
          onPointerDown={(event) => event.preventDefault()}
          onClick={() => (findChoice.value = i)}
          onDblClick={goThere}
        >
          <b>{place.title}</b> <span class="soft">{place.kind}</span>
        </li>
      ))}
    </ul>
  );
}

function Actions() {
  const place = looked.value;
  if (!place) return null;
  return (
    <div class="find-actions">
      <button
        type="button"
        class="button strong"
        aria-disabled={cannotGo.value !== null}
        onClick={goThere}
        data-test="find-go"
      >
        {place.point === null || !openMap.value ? findWords.goThere : findWords.pickPoint(place.title)}
        <kbd>Enter</kbd>
      </button>
      {place.point === null && (
        <button type="button" class="button edged" onClick={addLooked} data-test="find-add">
          {findWords.addPoint(pointLetter(walk.value.points.length))}
          <kbd>Shift+Enter</kbd>
        </button>
      )}
    </div>
  );
}
