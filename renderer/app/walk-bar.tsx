/** The upper slips: the walk with its file and history, and what its bearings rest on: map, day, north. */
import { setTitle } from "../../core/walk/edits.ts";
import { openingMap, shownMap } from "../map-case/map-case.ts";
import { edit, unsaved, walk, walkFile } from "../walk-state/walk-document.ts";
import { findWords } from "../words/find-words.ts";
import { words } from "../words/words.ts";
import { CommandButton } from "./command-button.tsx";
import { DayField } from "./day-field.tsx";
import { DraftField } from "./draft-field.tsx";
import { CommandMenu } from "./menus.tsx";
import { runCommand } from "./commands.ts";

export function WalkBar() {
  const { title } = walk.value;
  return (
    <div class="paper bar" role="toolbar" aria-label={words.bar.label}>
      <CommandMenu menu="walk" />
      <div class="walk-title">
        <DraftField
          class="title-field"
          label={words.bar.title}
          value={title}
          commit={(text) =>
            edit(words.steps.title, (now) => setTitle(now, text.trim() || words.bar.untitled))
          }
          test="title"
        />
        <span class="soft saved-state" role="status" data-test="saved-state">
          {unsaved.value ? words.bar.unsaved : walkFile.value ? words.bar.saved : ""}
        </span>
      </div>
      <CommandButton id="save" short={words.bar.save} />
      <CommandButton id="undo" short={words.bar.undo} />
      <CommandButton id="redo" short={words.bar.redo} />
    </div>
  );
}

export function BasisBar() {
  return (
    <div class="paper bar basis" role="toolbar" aria-label={words.map.legend}>
      <button
        type="button"
        class="button map-button"
        data-test="map-button"
        onClick={() => runCommand("maps")}
      >
        <span class="soft">{words.bar.map}</span>{" "}
        <b>{openingMap.value ?? shownMap.value?.title ?? words.bar.noMap}</b>
      </button>
      <DayField class="field date-field" test="date" />
      <CommandButton id="find" short={findWords.short} />
      <CommandMenu menu="tools" />
      <CommandMenu menu="view" />
    </div>
  );
}
