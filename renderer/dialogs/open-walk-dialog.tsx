import type { OpenChoice } from "../../electron/contract.ts";
import { words } from "../words/words.ts";
import { Frame } from "./frame.tsx";

interface Props {
  readonly names: readonly string[];
  readonly folder: string;
  readonly answer: (choice: OpenChoice | null) => void;
}

/** Walks in the host's folder by name, or any file picked in the browser. */
export function OpenWalkDialog({ names, folder, answer }: Props) {
  const upload = async (event: Event & { readonly currentTarget: HTMLInputElement }): Promise<void> => {
    const file = event.currentTarget.files?.[0];
    if (file) answer({ upload: { name: file.name, text: await file.text() } });
  };
  return (
    <Frame title={words.dialogs.openTitle} onAway={() => answer(null)}>
      <h3>{words.dialogs.openFrom(folder)}</h3>
      {names.length === 0 && <p class="soft">{words.dialogs.noWalks(folder)}</p>}
      <ul class="choices">
        {names.map((name) => (
          <li key={name}>
            <button type="button" class="choice" onClick={() => answer({ name })}>
              {name}
            </button>
          </li>
        ))}
      </ul>
      <label class="upload">
        <span>{words.dialogs.upload}</span>
        <input
          type="file"
          accept=".geojson,.json,application/geo+json,application/json"
          onChange={(event) => void upload(event)}
        />
      </label>
      <div class="dialog-buttons">
        <button type="button" class="button" onClick={() => answer(null)}>
          {words.dialogs.cancel}
        </button>
      </div>
    </Frame>
  );
}
