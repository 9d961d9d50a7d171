import { useEffect } from "preact/hooks";
import { formatShare } from "../../core/units/format.ts";
import { hostInfo } from "../app/host-info.ts";
import { sayFault } from "../app/notices.ts";
import { ask } from "../dialogs/dialogs.ts";
import { Frame } from "../dialogs/frame.tsx";
import { making } from "../make-map/making.ts";
import { mapWords } from "../words/map-words.ts";
import { words } from "../words/words.ts";
import { addMap } from "./case-actions.ts";
import { mapEntries, openMapById, refreshMapCase } from "./map-case.ts";
import "./map-case.css";
import { MapRow } from "./map-row.tsx";
import { takingIn } from "./take-files.ts";

/** The map case: the maps on this computer, those too that cannot be opened and why, and the ways to more. */
export function MapsDialog({ answer }: { readonly answer: (done: true | null) => void }) {
  useEffect(() => {
    refreshMapCase().catch(sayFault);
  }, []);
  const open = async (id: string): Promise<void> => {
    if (await openMapById(id)) answer(true);
  };
  return (
    <Frame title={mapWords.title} wide onAway={() => answer(null)}>
      <div class="map-case">
        <MapRows open={(id) => void open(id)} />
        <Ways />
      </div>
      <TakingIn />
      <div class="dialog-buttons">
        <MapButtons />
        <span class="spread" />
        <button type="button" class="button" onClick={() => answer(null)}>
          {words.dialogs.close}
        </button>
      </div>
    </Frame>
  );
}

export function MapRows({ open }: { readonly open: (id: string) => void }) {
  if (mapEntries.value.length === 0) return <p class="soft">{mapWords.empty}</p>;
  return (
    <ul class="map-rows" aria-label={mapWords.title}>
      {mapEntries.value.map((entry) => (
        <MapRow key={entry.id} entry={entry} open={open} />
      ))}
    </ul>
  );
}

/** Adding and making, in the case and on the bare table. */
export function MapButtons() {
  return (
    <>
      <button type="button" class="button edged" data-test="add-map" onClick={() => void addMap()}>
        {mapWords.add}
      </button>
      <button
        type="button"
        class="button edged"
        data-test="make-map"
        onClick={() => void ask("make-map", null)}
      >
        {making.value ? mapWords.backToMaking : mapWords.make}
      </button>
    </>
  );
}

/** How to get a map of one's own; open at once while there is none but the demo map. */
export function Ways() {
  const onlyDemo = mapEntries.value.every(({ invented }) => invented);
  const { ways } = mapWords;
  const info = hostInfo.value;
  return (
    <details class="ways" open={onlyDemo} data-test="ways">
      <summary>{ways.title}</summary>
      {onlyDemo && mapEntries.value.length > 0 && <p>{ways.first}</p>}
      <ol>
        {ways.list.map(([lead, text]) => (
          <li key={lead}>
            <b>{lead}</b> {text}
          </li>
        ))}
      </ol>
      <p>{ways.lead}</p>
      <p>{info?.dialogs === "page" ? mapWords.dropCopied(info.folderName) : mapWords.drop}</p>
      <p class="soft">{ways.check}</p>
    </details>
  );
}

/** A file on its way into the walk folder. */
export function TakingIn() {
  const coming = takingIn.value;
  if (!coming) return null;
  return (
    <div class="taking-in">
      <p role="status">{mapWords.takingIn(coming.name, formatShare(coming.done))}</p>
      <progress class="waiting-bar" value={coming.done} max={1} aria-label={coming.name} />
      <button type="button" class="button edged" onClick={coming.stop}>
        {mapWords.stop}
      </button>
    </div>
  );
}
