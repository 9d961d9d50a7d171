/** The slip of a place asked about: what its ground is and why, its figures, and the landmarks in view from it. */
import { createPortal } from "preact/compat";
import { useLayoutEffect, useRef } from "preact/hooks";
import { Fault } from "../../core/fault.ts";
import { formatAngle, formatHeight } from "../../core/units/format.ts";
import { lengthUnit, settings } from "../app/settings.ts";
import { runCommand } from "../app/commands.ts";
import { textOrReason } from "../find/position-texts.ts";
import { mapMoves, mapView } from "../map/view-state.ts";
import { placeWords } from "../words/place-words.ts";
import { Fan } from "./fan.tsx";
import { slipBeside } from "./fan-layout.ts";
import { LandmarkList } from "./landmark-list.tsx";
import "./place.css";
import { landmarksWanted, leavePlace, type Place, place, reading } from "./place-state.ts";
import { freeRoom } from "./room.ts";

/** Gentler ground faces nowhere one could tell. */
const LEVEL_DEG = 1;

export function PlaceSlip() {
  const map = mapView.value;
  const here = place.value;
  if (!map || !here) return null;
  return (
    <>
      <Slip here={here} />
      {createPortal(
        <div class="on-map">
          <Fan map={map} from={here.lonLat} />
        </div>,
        map.getCanvasContainer(),
      )}
    </>
  );
}

function Slip({ here }: { readonly here: Place }) {
  const slip = useRef<HTMLElement>(null);
  const docked = landmarksWanted.value;
  const [lon, lat] = here.lonLat;
  // Read so that the slip moves with the map.
  void mapMoves.value;
  const found = reading.value;
  useLayoutEffect(() => {
    const element = slip.current;
    const map = mapView.peek();
    if (!element || !map) return;
    const room = freeRoom(map);
    const { offsetWidth: width, offsetHeight: height } = element;
    const at = docked || !room ? null : slipBeside(map.project([lon, lat]), { width, height }, room);
    element.classList.toggle("beside", at !== null);
    // In a corner it leaves the place itself in sight.
    const middle = room ? (room.x0 + room.x1) / 2 : 0;
    element.classList.toggle("at-right", at === null && map.project([lon, lat]).x < middle);
    element.style.transform = at ? `translate(${at.x}px, ${at.y}px)` : "";
  });

  const key = (event: KeyboardEvent): void => {
    if (event.key !== "Escape") return;
    event.preventDefault();
    event.stopPropagation();
    leavePlace();
  };
  return (
    <section
      ref={slip}
      class="paper place-slip"
      tabIndex={-1}
      aria-label={placeWords.label}
      onKeyDown={key}
      data-test="place-slip"
    >
      <div class="place-head">
        <div role="status">
          {here.label !== null && <p class="soft">{placeWords.at(here.label)}</p>}
          <GroundWords />
        </div>
        <button
          type="button"
          class="button place-close"
          aria-label={placeWords.close}
          title={`${placeWords.close} (Esc)`}
          onClick={leavePlace}
        >
          ×
        </button>
      </div>
      <p class="place-figures-line">
        <b data-test="ground-place">
          {textOrReason(here.lonLat, settings.value.notation, settings.value, 1)}
        </b>
        {found && !(found instanceof Fault) && (
          <>
            <span>
              <span class="soft">{placeWords.height} </span>
              <b data-test="ground-height">
                {found.elevationM === null
                  ? placeWords.noHeight
                  : formatHeight(found.elevationM, lengthUnit.value)}
              </b>
            </span>
            {found.slope && (
              <span>
                <span class="soft">{placeWords.slope} </span>
                <b data-test="ground-slope">
                  {placeWords.facing(
                    formatAngle(found.slope.deg),
                    found.slope.deg < LEVEL_DEG ? null : found.slope.aspect,
                  )}
                </b>
              </span>
            )}
          </>
        )}
      </p>
      {landmarksWanted.value ? (
        <LandmarkList from={here.lonLat} />
      ) : (
        <button
          type="button"
          class="button edged"
          onClick={() => runCommand("landmarks")}
          data-test="show-landmarks"
        >
          {placeWords.showLandmarks}
        </button>
      )}
    </section>
  );
}

function GroundWords() {
  const found = reading.value;
  if (!found) return <p>{placeWords.working}</p>;
  if (found instanceof Fault)
    return (
      <p>
        {found.what} {found.remedy}
      </p>
    );
  const { kind, name, why } = found.landform;
  return (
    <>
      <h2 data-test="ground-word">{placeWords.heading(kind, name)}</h2>
      {!landmarksWanted.value && <p data-test="ground-why">{why}</p>}
    </>
  );
}
