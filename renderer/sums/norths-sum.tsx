/** Bearings between the norths at a place on a day, and how those norths lie. */
import { effect, signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { Fault } from "../../core/fault.ts";
import type { LonLat } from "../../core/units/position.ts";
import { type North, pointLabel } from "../../core/walk/walk.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { worker } from "../analysis/worker.ts";
import { NORTHS } from "../app/north.ts";
import { findContext } from "../find/find-context.ts";
import { lookAround } from "../find/look-around.ts";
import { understand } from "../find/understand.ts";
import { mapView } from "../map/view-state.ts";
import { openMap } from "../map-case/map-case.ts";
import { referencePoint } from "../walk-state/selection.ts";
import { walk } from "../walk-state/walk-document.ts";
import { sumsWords } from "../words/sums-words.ts";
import { Answer, Blank, SumGroup, Working } from "./blank.tsx";
import { NorthDiagram } from "./north-diagram.tsx";
import { bearingsOf, type Norths, northsAt, northsRestOn, rulesOf } from "./norths-work.ts";
import { bearingNorth, blanks } from "./sums-state.ts";

const { norths: northWords } = sumsWords;

interface Place {
  readonly lonLat: LonLat;
  readonly name: string;
}

/** What was written, else the point that counts, else the middle of the map. */
function placeNow(): Place | Fault {
  const text = blanks.place.value;
  if (text.trim() !== "") {
    const meant = understand(text, findContext.value);
    if (meant.kind === "fault") return meant.fault;
    const [place] = meant.kind === "places" ? meant.places : [];
    if (place) return { lonLat: place.lonLat, name: place.readAs };
  }
  const index = referencePoint.value;
  const point = index === null ? undefined : walk.value.points[index];
  if (index !== null && point)
    return { lonLat: point.lonLat, name: northWords.pointPlace(pointLabel(walk.value, index)) };
  const center = mapView.value?.getCenter().wrap();
  if (center && openMap.value) return { lonLat: [center.lng, center.lat], name: northWords.mapPlace };
  return new Fault("bad-argument", northWords.noPlace);
}

const heightThere = signal<number | null>(null);
const askHeight = newestWins<LonLat, number | null>({
  run: (lonLat, stop) => worker.ask("elevationAt", [lonLat], stop),
  answered: (height) => (heightThere.value = height),
  failed: () => (heightThere.value = null),
});

export function NorthsSum() {
  useEffect(lookAround, []);
  // Height matters to the declination by hundredths of a degree: without a map it is taken at sea level.
  useEffect(
    () =>
      effect(() => {
        const place = placeNow();
        heightThere.value = null;
        if (!(place instanceof Fault) && openMap.value) askHeight.ask(place.lonLat);
      }),
    [],
  );
  const place = placeNow();
  const date = blanks.day.value || walk.value.date;
  const known = place instanceof Fault ? place : northsOrFault(place.lonLat, date);
  return (
    <SumGroup title={northWords.title}>
      <p class="sum">
        {northWords.at}{" "}
        <Blank
          label={northWords.place}
          value={blanks.place.value}
          onInput={(text) => (blanks.place.value = text)}
          placeholder={place instanceof Fault ? "…" : place.name}
          least={12}
          test="sum-place"
        />{" "}
        {northWords.on}{" "}
        <input
          class="blank"
          type="date"
          aria-label={northWords.day}
          title={northWords.day}
          value={date}
          data-test="sum-day"
          onInput={(event) => (blanks.day.value = event.currentTarget.value)}
        />{" "}
        {!(known instanceof Fault) && <BearingSentence norths={known} />}
      </p>
      {known instanceof Fault ? (
        <p class="sum-fault" role="status" data-test="sum-norths-fault">
          {known.what} {known.remedy}
        </p>
      ) : (
        <>
          <BearingWorking norths={known} />
          <NorthDiagram convergenceDeg={known.convergenceDeg} declinationDeg={known.declinationDeg} />
          <ul class="rules" data-test="sum-rules">
            {rulesOf(known).map((rule) => (
              <li key={rule}>{rule}</li>
            ))}
          </ul>
          <p class="working soft" data-test="sum-norths-how">
            {northsRestOn(known, date).join(" ")}
          </p>
        </>
      )}
    </SumGroup>
  );
}

function northsOrFault(lonLat: LonLat, date: string): Norths | Fault {
  try {
    return northsAt(lonLat, heightThere.value, { date, declination: walk.value.declination });
  } catch (thrown) {
    return Fault.from(thrown);
  }
}

const northOf = (): North => bearingNorth.value ?? walk.value.north;

function BearingSentence({ norths }: { readonly norths: Norths }) {
  const north = northOf();
  const of = bearingsOf(blanks.bearing.value, north, norths);
  const value = of.kind === "answer" ? of.value : null;
  return (
    <>
      {northWords.bearingOf}{" "}
      <Blank
        label={northWords.bearing}
        value={blanks.bearing.value}
        onInput={(text) => (blanks.bearing.value = text)}
        of={of}
        test="sum-bearing"
      />{" "}
      {northWords.from}{" "}
      <select
        class="blank"
        aria-label={northWords.fromNorth}
        title={northWords.fromNorth}
        value={north}
        data-test="sum-north"
        onChange={(event) => (bearingNorth.value = event.currentTarget.value as North)}
      >
        {NORTHS.map((one) => (
          <option key={one} value={one}>
            {northWords.north[one]}
          </option>
        ))}
      </select>{" "}
      {northWords.northIs}{" "}
      {NORTHS.filter((one) => one !== north).map((one, i) => (
        <>
          {i > 0 && ", "}
          <Answer key={one} test={`sum-on-${one}`}>
            {value?.on[one] ?? "–"} {northWords.north[one]}
          </Answer>
        </>
      ))}
      .{" "}
      {value && (
        <>
          {northWords.back} <Answer test="sum-back">{value.back[north] ?? "–"}</Answer>{" "}
          {northWords.north[north]}, {northWords.alsoMils} <Answer test="sum-mils">{value.mils}</Answer>,{" "}
          {northWords.alsoQuadrant} <Answer test="sum-quadrant">{value.quadrant}</Answer>.
        </>
      )}
    </>
  );
}

const BearingWorking = ({ norths }: { readonly norths: Norths }) => (
  <Working of={bearingsOf(blanks.bearing.value, northOf(), norths)} test="sum-bearing-how" />
);
