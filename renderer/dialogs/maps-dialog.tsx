import { useEffect } from "preact/hooks";
import { hostInfo } from "../app/host-info.ts";
import { sayFault } from "../app/notices.ts";
import { addMapToCase, mapEntries, openMap, openMapById, refreshMapCase } from "../map-case/map-case.ts";
import { words } from "../words/words.ts";
import { Frame } from "./frame.tsx";

const megabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(1)}\u00a0MB`;

/** The map case: the maps on this computer, those too that cannot be opened and why. */
export function MapsDialog({ answer }: { readonly answer: (done: true | null) => void }) {
  useEffect(() => {
    refreshMapCase().catch(sayFault);
  }, []);
  const choose = async (id: string): Promise<void> => {
    if (await openMapById(id)) answer(true);
  };
  return (
    <Frame title={words.dialogs.mapsTitle} onAway={() => answer(null)}>
      <MapChoices choose={(id) => void choose(id)} />
      <HowToAddMap />
      <div class="dialog-buttons">
        <button type="button" class="button" onClick={() => answer(null)}>
          {words.dialogs.close}
        </button>
      </div>
    </Frame>
  );
}

/** The maps as buttons: in the map case, and on the bare table while no map is open. */
export function MapChoices({ choose }: { readonly choose: (id: string) => void }) {
  const openId = openMap.value?.opened.id;
  if (mapEntries.value.length === 0) return <p class="soft">{words.map.noMapsText}</p>;
  return (
    <ul class="choices">
      {mapEntries.value.map((entry) => (
        <li key={entry.id}>
          <button
            type="button"
            class="choice"
            aria-current={entry.id === openId ? "true" : undefined}
            disabled={entry.fault !== null}
            onClick={() => choose(entry.id)}
          >
            <b>{entry.title}</b>
            <span class="soft">{words.dialogs.mapDetails(entry, megabytes(entry.sizeBytes))}</span>
            {entry.fault && <span class="choice-fault">{entry.fault.what}</span>}
          </button>
        </li>
      ))}
    </ul>
  );
}

/** A button where the host has a dialog for it, else where to put the file. */
export function HowToAddMap() {
  if (!hostInfo.value) return null;
  if (hostInfo.value.dialogs === "page")
    return <p class="soft">{words.dialogs.mapsFolder(hostInfo.value.folderName)}</p>;
  return (
    <button type="button" class="button edged" onClick={() => void addMapToCase()}>
      {words.dialogs.addMap}
    </button>
  );
}
