import { useState } from "preact/hooks";
import { Frame } from "../dialogs/frame.tsx";
import { mapWords } from "../words/map-words.ts";
import { words } from "../words/words.ts";

export type PickedFromPage = { readonly names: readonly string[] } | { readonly files: readonly File[] };

interface Props {
  readonly title: string;
  readonly names: readonly string[];
  readonly folder: string;
  readonly answer: (picked: PickedFromPage | null) => void;
}

/** Files of the host's folder by name, or any files picked in the browser. */
export function PickFilesDialog({ title, names, folder, answer }: Props) {
  const [ticked, setTicked] = useState<ReadonlySet<string>>(new Set());
  const tick = (name: string): void => {
    const next = new Set(ticked);
    if (!next.delete(name)) next.add(name);
    setTicked(next);
  };
  return (
    <Frame title={title} onAway={() => answer(null)}>
      <h3>{mapWords.pick.inFolder(folder)}</h3>
      {names.length === 0 && <p class="soft">{mapWords.pick.none(folder)}</p>}
      <ul class="choices">
        {names.map((name) => (
          <li key={name}>
            <label class="tick-choice">
              <input type="checkbox" checked={ticked.has(name)} onChange={() => tick(name)} />
              {name}
            </label>
          </li>
        ))}
      </ul>
      <label class="upload">
        <span>{mapWords.pick.upload(folder)}</span>
        <input
          type="file"
          multiple
          onChange={(event) => answer({ files: [...(event.currentTarget.files ?? [])] })}
        />
      </label>
      <div class="dialog-buttons">
        <button type="button" class="button" onClick={() => answer(null)}>
          {words.dialogs.cancel}
        </button>
        <button
          type="button"
          class="button strong"
          data-test="take-ticked"
          disabled={ticked.size === 0}
          onClick={() => answer({ names: [...ticked] })}
        >
          {mapWords.pick.take}
        </button>
      </div>
    </Frame>
  );
}
