/** The leg slip, read from top to bottom in the order of use: set, know, follow, be stopped, mind. */
import type { LegFigures } from "../../core/legs/figures.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import {
  formatBearing,
  formatEastWest,
  formatDuration,
  formatHeight,
  formatNumber,
} from "../../core/units/format.ts";
import { backBearing } from "../../core/units/angle.ts";
import type { North } from "../../core/walk/walk.ts";
import { lengthUnit } from "../app/settings.ts";
import { runCommand } from "../app/commands.ts";
import { chooseNorth, NORTHS } from "../app/north.ts";
import { openMap } from "../map-case/map-case.ts";
import { figures, figuresFault, shownFigures } from "../walk-state/figures.ts";
import { pickLeg, shownLeg } from "../walk-state/selection.ts";
import { walk } from "../walk-state/walk-document.ts";
import { bearingOn } from "../words/figure-words.ts";
import { words } from "../words/words.ts";
import { Aids } from "./aids.tsx";
import { CompassFace } from "./compass-face.tsx";
import { PointNotes } from "./point-notes.tsx";

export function LegSlip() {
  const leg = shownFigures.value;
  const count = figures.value?.legs.length ?? 0;
  return (
    <div class="slip-body" data-test="slip">
      {leg ? <Leg leg={leg} count={count} /> : <NoLeg />}
      <footer class="slip-foot soft">
        {openMap.value?.info.invented && <p>{words.slip.invented}</p>}
        <p>{words.slip.found}</p>
      </footer>
    </div>
  );
}

function NoLeg() {
  const fault = figuresFault.value;
  const points = walk.value.points.length;
  return (
    <div class="slip-empty">
      <h2>{words.slip.emptyTitle}</h2>
      {fault ? <p>{fault.what}</p> : points > 1 ? <p>{words.slip.working}</p> : <p>{words.slip.empty}</p>}
      {points === 0 && (
        <button type="button" class="button edged" onClick={() => runCommand("open-demo")}>
          {words.slip.openDemo}
        </button>
      )}
    </div>
  );
}

const OTHERS: Readonly<Record<North, readonly North[]>> = {
  magnetic: ["true", "grid"],
  grid: ["magnetic", "true"],
  true: ["magnetic", "grid"],
};

function Leg({ leg, count }: { readonly leg: LegFigures; readonly count: number }) {
  const north = walk.value.north;
  const bearing = bearingOn(leg, north);
  const back = bearing === null ? null : backBearing(bearing as Parameters<typeof backBearing>[0]);
  const at = shownLeg.value ?? 0;
  return (
    <>
      <header class="slip-head">
        <h2>{words.slip.heading(leg.n, leg.from, leg.to)}</h2>
        <span class="soft">{words.slip.of(count)}</span>
        <span class="slip-turn">
          <button
            type="button"
            class="button"
            disabled={at <= 0}
            aria-label={words.slip.previous}
            title={words.slip.previous}
            onClick={() => pickLeg(at - 1)}
          >
            ‹
          </button>
          <button
            type="button"
            class="button"
            disabled={at >= count - 1}
            aria-label={words.slip.next}
            title={words.slip.next}
            onClick={() => pickLeg(at + 1)}
          >
            ›
          </button>
        </span>
      </header>
      <div class="slip-bearing">
        <CompassFace bearing={bearing} north={north} />
        <div>
          <p class="bearing-to-set" data-test="bearing">
            {formatBearing(bearing)}
          </p>
          <p class="soft north-choice">
            <select
              aria-label={words.northGroup}
              title={words.northGroup}
              value={north}
              data-test="north"
              onChange={(event) => chooseNorth(event.currentTarget.value as North)}
            >
              {NORTHS.map((one) => (
                <option key={one} value={one}>
                  {words.north[one]}
                </option>
              ))}
            </select>
            {words.slip.toSet}
          </p>
          <ul class="bearing-others soft">
            {OTHERS[north].map((other) => (
              <li key={other} data-test={`bearing-${other}`}>
                {words.slip.lines[other](formatOther(leg, other))}
              </li>
            ))}
            <li data-test="bearing-back">{words.slip.lines.back(formatBearing(back))}</li>
          </ul>
        </div>
      </div>
      <SixFigures leg={leg} />
      <Aids leg={leg} />
      <PointNotes leg={at} />
      <Notes leg={leg} />
    </>
  );
}

const formatOther = (leg: LegFigures, north: North): string =>
  formatBearing(bearingOn(leg, north), { graduationDeg: 0.1 });

function SixFigures({ leg }: { readonly leg: LegFigures }) {
  const unit = lengthUnit.value;
  const cells: readonly (readonly [string, string, string])[] = [
    [words.slip.onMap, formatAlong(leg.distanceM, unit), "distance"],
    [words.slip.onSlope, formatAlong(leg.slopeDistanceM, unit), "slope-distance"],
    [words.pace(walk.value.pace.steps), formatNumber(leg.paces), "paces"],
    [words.slip.climb, formatHeight(leg.climbM, unit), "climb"],
    [words.slip.descent, formatHeight(leg.descentM, unit), "descent"],
    [words.slip.time, formatDuration(leg.timeS), "time"],
  ];
  return (
    <dl class="six-figures">
      {cells.map(([name, value, test]) => (
        <div key={test}>
          <dt class="soft">{name}</dt>
          <dd data-test={test}>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

function Notes({ leg }: { readonly leg: LegFigures }) {
  const declination = figures.value?.declination;
  const notes = [...leg.notes];
  return (
    <section class="slip-notes soft">
      {leg.declinationDeg !== null && declination?.model && (
        <p data-test="declination">
          {words.slip.declination(
            formatEastWest(leg.declinationDeg),
            declination.model,
            declination.uncertaintyDeg === null ? null : `${formatNumber(declination.uncertaintyDeg, 1)}°`,
          )}
        </p>
      )}
      {notes.map((note) => (
        <p key={note}>{note}</p>
      ))}
    </section>
  );
}
