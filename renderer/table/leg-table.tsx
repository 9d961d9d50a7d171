/** The leg table: the whole walk in rows, in step with map, ribbon and slip. */
import { useEffect, useRef } from "preact/hooks";
import type { LegFigures, WalkFigures } from "../../core/legs/figures.ts";
import {
  bearingOn,
  bearingToSet,
  dialledNorth,
  formatOn,
  type North,
} from "../../core/legs/norths/bearing-to-set.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import {
  declinationStatement,
  hoursStatements,
  methodStatements,
  northStatement,
} from "../../core/legs/table/table-statements.ts";
import { instructionIn } from "../../core/legs/table/leg-table.ts";
import { clockOf } from "../../core/legs/times/zoned-clock.ts";
import {
  ABSENT,
  formatAngle,
  formatDuration,
  formatHeight,
  formatLength,
  formatNumber,
} from "../../core/units/format.ts";
import { renamePoint } from "../../core/walk/edits.ts";
import { pointLabel, pointLetter } from "../../core/walk/walk.ts";
import { DraftField } from "../app/draft-field.tsx";
import { adviceOfLegs } from "../advice/advice-state.ts";
import { isLow, isLowLeg } from "../advice/low-odds.tsx";
import { of100 } from "../advice/of-100.ts";
import { walkWayOutLine } from "../advice/way-out.tsx";
import { openMap } from "../map-case/map-case.ts";
import { lengthUnit, settings } from "../app/settings.ts";
import { legTableWith } from "../print/leg-table-of-walk.ts";
import { darkWarnings } from "../slip/dark-warnings.ts";
import { figures } from "../walk-state/figures.ts";
import { pickLeg, pointedLeg, shownLeg } from "../walk-state/selection.ts";
import { edit, walk } from "../walk-state/walk-document.ts";
import { dropMark, RowHandle } from "./row-handle.tsx";
import { thingName } from "../words/kind-words.ts";
import { settingsWords } from "../words/settings-words.ts";
import { adviceWords } from "../words/advice-words.ts";
import { words } from "../words/words.ts";

/** The north that is dialled, when it is another than the one bearings are given on. */
const dialledBeside = (): North | null => {
  const north = dialledNorth(settings.value.compass, walk.value.north);
  return north === walk.value.north ? null : north;
};

export function LegTablePanel() {
  const all = figures.value;
  if (!all || all.legs.length === 0) return <p class="table-empty soft">{words.table.empty}</p>;
  return (
    <div class="table-scroll" data-test="leg-table" tabIndex={0} role="region" aria-label={words.table.label}>
      <table>
        <Head timed={all.start !== null} />
        <tbody>
          {all.legs.map((leg, i) => (
            <Row key={walk.value.points[i + 1]?.id ?? i} leg={leg} at={i} all={all} />
          ))}
        </tbody>
        <Foot all={all} />
      </table>
      <Statement all={all} />
    </div>
  );
}

function Head({ timed }: { readonly timed: boolean }) {
  const c = words.table.columns;
  const { north, pace } = walk.value;
  const beside = dialledBeside();
  return (
    <thead>
      <tr>
        <th scope="col">{c.leg}</th>
        <th scope="col" class="text">
          {c.from}
        </th>
        <th scope="col" class="text">
          {c.to}
        </th>
        <th scope="col">{c.bearing(words.north[north])}</th>
        {beside && (
          <th scope="col">
            {words.northName[beside]}
            {words.slip.toSet}
          </th>
        )}
        <th scope="col">{c.back}</th>
        <th scope="col">{c.distance}</th>
        <th scope="col">{c.slope}</th>
        <th scope="col">{c.climb}</th>
        <th scope="col">{c.descent}</th>
        <th scope="col">{c.steepest}</th>
        <th scope="col">{c.paces(words.pace(pace.steps))}</th>
        <th scope="col">{c.time}</th>
        <th scope="col">{c.runningDistance}</th>
        <th scope="col">{timed ? settingsWords.table.arrival : c.runningTime}</th>
        <th scope="col" class="text">
          {c.follow}
        </th>
        <th scope="col" class="text">
          {c.stops}
        </th>
        <th scope="col" title={adviceWords.table.oddsTitle}>
          {adviceWords.table.odds}
        </th>
        <th scope="col" class="text">
          {adviceWords.table.instruction}
        </th>
      </tr>
    </thead>
  );
}

interface RowProps {
  readonly leg: LegFigures;
  readonly at: number;
  readonly all: WalkFigures;
}

function Row({ leg, at, all }: RowProps) {
  const row = useRef<HTMLTableRowElement>(null);
  const unit = lengthUnit.value;
  const north = walk.value.north;
  const isShown = shownLeg.value === at;
  useEffect(() => {
    if (isShown) row.current?.scrollIntoView({ block: "nearest" });
  }, [isShown]);
  const { compass } = settings.value;
  const set = bearingToSet(leg, compass, north);
  const rail = leg.handrails[0];
  return (
    <tr
      ref={row}
      class={`${isShown ? "picked" : pointedLeg.value === at ? "pointed" : ""} ${isLowLeg(at) ? "low" : ""} ${dropMark(at)}`}
      aria-selected={isShown}
      data-leg={leg.n}
      onPointerEnter={() => (pointedLeg.value = at)}
      onPointerLeave={() => (pointedLeg.value = null)}
      onClick={() => pickLeg(at)}
    >
      <th scope="row" class="leg-cell">
        <RowHandle at={at} />
        <button
          type="button"
          class="leg-number"
          aria-label={words.table.pick(leg.n)}
          aria-pressed={isShown}
          onClick={() => pickLeg(at)}
        >
          {leg.n}
        </button>
      </th>
      <td class="text">
        <PointName index={at} />
      </td>
      <td class="text">
        <PointName index={at + 1} />
      </td>
      <td class={set.north === north ? "strong" : ""}>{formatOn(compass, bearingOn(leg, north))}</td>
      {set.north !== north && <td class="strong">{set.text}</td>}
      <td>{set.backText}</td>
      <td>{formatAlong(leg.distanceM, unit)}</td>
      <td>{formatAlong(leg.slopeDistanceM, unit)}</td>
      <td>{formatHeight(leg.climbM, unit)}</td>
      <td>{formatHeight(leg.descentM, unit)}</td>
      <td>{formatAngle(leg.steepestDeg)}</td>
      <td>{formatNumber(leg.paces)}</td>
      <td>{formatDuration(leg.timeS)}</td>
      <td>{formatLength(leg.runningDistanceM, unit)}</td>
      {all.start === null ? (
        <td>{formatDuration(leg.runningTimeS)}</td>
      ) : (
        <Arrival leg={leg} dusk={all.daylight?.civilDusk ?? null} />
      )}
      <td class="text">{rail ? `${thingName(rail.kind, rail.name)}, ${rail.side}` : ""}</td>
      <td class="text">
        {leg.backstop
          ? `${thingName(leg.backstop.kind, leg.backstop.name)}, ${formatAlong(leg.backstop.beyondM, unit)}`
          : ""}
      </td>
      <Odds at={at} />
      <Line leg={leg} all={all} />
    </tr>
  );
}

/** "73 · 12 · 15", and a word where too few find the target. */
function Odds({ at }: { readonly at: number }) {
  const shown = adviceOfLegs.value[at];
  const odds = shown?.advice?.odds;
  const parts = odds && of100(odds);
  return (
    <td data-test="row-odds" class={shown?.isCurrent ? "" : "old"}>
      {parts
        ? `${parts.find} · ${parts.stopped} · ${parts.missed}`
        : openMap.value && !shown?.isCurrent
          ? "…"
          : ABSENT}
      {isLow(shown) && <span class="row-flag"> {adviceWords.table.low}</span>}
    </td>
  );
}

/** What to do in one line, the person's own marked where it may be out of date. */
function Line({ leg, all }: { readonly leg: LegFigures; readonly all: WalkFigures }) {
  const { text, mayBeStale } = instructionIn(legTableWith(all), leg);
  return (
    <td class="text row-line" data-test="row-line">
      {text}
      {mayBeStale && <span class="row-flag"> {adviceWords.table.stale}</span>}
    </td>
  );
}

/** A clock time after dusk says so: the hour alone does not. */
function Arrival({ leg, dusk }: { readonly leg: LegFigures; readonly dusk: string | null }) {
  const dark = leg.arrival !== null && dusk !== null && Date.parse(leg.arrival) > Date.parse(dusk);
  return (
    <td data-test="row-arrival">
      {clockOf(leg.arrival, walk.value.date) ?? ABSENT}
      {dark && <span class="row-flag"> {settingsWords.table.dark}</span>}
    </td>
  );
}

function PointName({ index }: { readonly index: number }) {
  const point = walk.value.points[index];
  if (!point) return null;
  const label = pointLabel(walk.value, index);
  return (
    <span class="point-cell">
      {point.name !== null && <span class="soft point-letter">{pointLetter(index)}</span>}
      <DraftField
        class="point-name"
        label={words.table.rename(label)}
        value={point.name ?? pointLetter(index)}
        commit={(text) => {
          // Typing the letter that it has anyway is no name.
          const name = text.trim() === pointLetter(index) ? "" : text;
          edit(words.steps.rename(label), (now) => renamePoint(now, point.id, name));
        }}
      />
    </span>
  );
}

function Foot({ all }: { readonly all: WalkFigures }) {
  const { totals } = all;
  const unit = lengthUnit.value;
  return (
    <tfoot>
      <tr data-test="table-totals">
        <th scope="row" colSpan={dialledBeside() === null ? 5 : 6} class="text">
          {words.table.total}
        </th>
        <td>{formatLength(totals.distanceM, unit)}</td>
        <td>{formatLength(totals.slopeDistanceM, unit)}</td>
        <td>{formatHeight(totals.climbM, unit)}</td>
        <td>{formatHeight(totals.descentM, unit)}</td>
        <td />
        <td>{formatNumber(totals.paces)}</td>
        <td>{formatDuration(totals.timeS)}</td>
        <td colSpan={6} />
      </tr>
    </tfoot>
  );
}

/** What stands under the table on paper stands here too: declination, and how the figures were made. */
function Statement({ all }: { readonly all: WalkFigures }) {
  const table = legTableWith(all);
  const wayOut = walkWayOutLine();
  const dark = darkWarnings(all, table.date);
  const flagged = [...dark, ...(all.declination.beyondModel ? [settingsWords.table.beyond] : [])];
  // The figures' own notes say of the dark what is flagged here.
  const notes = all.notes.filter((note) => !flagged.includes(note));
  return (
    <div class="table-statement soft">
      {flagged.map((warning) => (
        <p key={warning} class="aid mind" data-test="table-warning">
          <b>{settingsWords.slip.mind}</b> {warning}
        </p>
      ))}
      <p data-test="declination-statement">
        {declinationStatement(table)} {northStatement(table)}
      </p>
      {hoursStatements(table).map((statement) => (
        <p key={statement} data-test="hours-statement">
          {statement}
        </p>
      ))}
      {wayOut !== null && (
        <p data-test="walk-way-out-statement">
          <b>{adviceWords.table.wayOut}</b>: {wayOut}.
        </p>
      )}
      <p>{methodStatements(table).join(" ")}</p>
      {notes.map((note) => (
        <p key={note}>{note}</p>
      ))}
    </div>
  );
}
