/** Named points seen from about here, offered as known points; one press puts one into a row. */
import { signal } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import { inverse } from "../../core/geodesy/geodesic.ts";
import type { LonLat } from "../../core/units/position.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { worker } from "../analysis/worker.ts";
import { openMap } from "../map-case/map-case.ts";
import { middleOfMap } from "../map/keyboard-draw.ts";
import { landmarkGroups } from "../place/landmark-rows.ts";
import { fixWords } from "../words/fix-words.ts";
import type { Landmarks } from "../worker/ground-questions.ts";
import { found, knownIntoRow, rows } from "./bearing-rows.ts";
import { fixDone } from "./fix-state.ts";
import { FaultLine, PlaceField } from "./place-field.tsx";
import { orFault, readPlace, writtenPlace } from "./read-fields.ts";
import { dialled, shownLength } from "./sure-text.ts";

/** About where one stands; empty takes the place found, else the middle of the map. */
const about = signal("");
/** From where the list was looked for, with it; null while it is worked out or was not asked for. */
const seen = signal<{ readonly from: LonLat; readonly landmarks: Landmarks | Fault } | null>(null);
const looking = signal(false);

const asking = newestWins<LonLat, Landmarks | null>({
  run: (from, stop) => worker.ask("landmarksFrom", [from], stop),
  answered: (landmarks, from) => {
    looking.value = false;
    seen.value = landmarks && { from, landmarks };
  },
  failed: (fault, from) => {
    looking.value = false;
    seen.value = { from, landmarks: fault };
  },
  patienceMs: 0,
});

function look(from: LonLat | null): void {
  seen.value = null;
  looking.value = from !== null;
  if (from) asking.ask(from);
}

function aboutHere(): LonLat | Fault | null {
  const written = orFault(() => readPlace(about.value));
  if (written instanceof Fault) return written;
  const fix = found.value;
  return written?.lonLat ?? (fix && !(fix instanceof Fault) ? fix.at : middleOfMap());
}

export function InView() {
  if (!openMap.value) return null;
  const here = aboutHere();
  return (
    <details class="fix-more">
      <summary data-test="fix-in-view">{fixWords.inView}</summary>
      <PlaceField
        id="about"
        label={fixWords.about}
        lead={fixWords.about}
        value={about.value}
        change={(text) => (about.value = text)}
      />
      <FaultLine of={here} />
      <button
        type="button"
        class="button edged"
        disabled={here instanceof Fault}
        onClick={() => look(here instanceof Fault ? null : here)}
        data-test="fix-look"
      >
        {fixWords.look}
      </button>
      <div role="status">{looking.value && <p class="soft">{fixWords.working}</p>}</div>
      {seen.value && <List {...seen.value} />}
    </details>
  );
}

function List({ from, landmarks }: { readonly from: LonLat; readonly landmarks: Landmarks | Fault }) {
  if (landmarks instanceof Fault) return <FaultLine of={landmarks} />;
  const { inView, notKnown } = landmarkGroups(landmarks);
  const offered = [...inView, ...notKnown];
  if (offered.length === 0) return <p>{fixWords.noneInView}</p>;
  return (
    <>
      <ul class="fix-off" data-test="fix-offered">
        {offered.map((landmark) => (
          <li key={`${landmark.place.name} ${landmark.place.lonLat.join()}`} class="fix-line">
            <button
              type="button"
              class="button edged"
              onClick={() => offer(landmark.place.name, landmark.place.lonLat)}
            >
              {landmark.place.name}
            </button>
            <span class="soft">
              {dialled(landmark.bearing, from)}, {shownLength(landmark.distanceM)}
            </span>
          </li>
        ))}
      </ul>
      <p class="soft">{fixWords.inViewCaution}</p>
    </>
  );
}

/** A name is told apart from its twins by its place. */
const NEAR_M = 5;

function offer(name: string, lonLat: LonLat): void {
  const named = orFault(() => readPlace(name));
  const same = named && !(named instanceof Fault) && inverse(named.lonLat, lonLat).distanceM < NEAR_M;
  const n = knownIntoRow(same ? name : writtenPlace(lonLat));
  fixDone.value = n === null ? fixWords.rowsFull(rows.value.length) : fixWords.offered(name, n + 1);
  if (n !== null) document.querySelector<HTMLElement>(`[data-test="fix-bearing-${n + 1}"]`)?.focus();
}
