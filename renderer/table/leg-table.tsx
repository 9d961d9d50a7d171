/** The leg table: the whole walk in rows, in step with map, ribbon and slip. */
import { useEffect, useRef } from "preact/hooks";
import type { LegFigures, WalkFigures } from "../../core/legs/figures.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { declinationStatement, methodStatements } from "../../core/legs/table-statements.ts";
import {
  formatAngle,
  formatBearing,
  formatDuration,
  formatHeight,
  formatLength,
  formatNumber,
} from "../../core/units/format.ts";
import { normalise360 } from "../../core/units/angle.ts";
import { renamePoint } from "../../core/walk/edits.ts";
import { pointLabel, pointLetter } from "../../core/walk/walk.ts";
import { DraftField } from "../app/draft-field.tsx";
import { lengthUnit } from "../app/settings.ts";
import { legTableWith } from "../print/leg-table-of-walk.ts";
import { figures } from "../walk-state/figures.ts";
import { pickLeg, pointedLeg, shownLeg } from "../walk-state/selection.ts";
import { edit, walk } from "../walk-state/walk-document.ts";
import { bearingOn } from "../words/figure-words.ts";
import { thingName } from "../words/kind-words.ts";
import { words } from "../words/words.ts";

export function LegTablePanel() {
  const all = figures.value;
  if (!all || all.legs.length === 0) return <p class="table-empty soft">{words.table.empty}</p>;
  return (
    <div class="table-scroll" data-test="leg-table" tabIndex={0} role="region" aria-label={words.table.label}>
      <table>
        <Head />
        <tbody>
          {all.legs.map((leg, i) => (
            <Row key={walk.value.points[i + 1]?.id ?? i} leg={leg} at={i} />
          ))}
        </tbody>
        <Foot all={all} />
      </table>
      <Statement all={all} />
    </div>
  );
}

function Head() {
  const c = words.table.columns;
  const { north, pace } = walk.value;
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
        <th scope="col">{c.back}</th>
        <th scope="col">{c.distance}</th>
        <th scope="col">{c.slope}</th>
        <th scope="col">{c.climb}</th>
        <th scope="col">{c.descent}</th>
        <th scope="col">{c.steepest}</th>
        <th scope="col">{c.paces(words.pace(pace.steps))}</th>
        <th scope="col">{c.time}</th>
        <th scope="col">{c.runningDistance}</th>
        <th scope="col">{c.runningTime}</th>
        <th scope="col" class="text">
          {c.follow}
        </th>
        <th scope="col" class="text">
          {c.stops}
        </th>
      </tr>
    </thead>
  );
}

function Row({ leg, at }: { readonly leg: LegFigures; readonly at: number }) {
  const row = useRef<HTMLTableRowElement>(null);
  const unit = lengthUnit.value;
  const north = walk.value.north;
  const isShown = shownLeg.value === at;
  useEffect(() => {
    if (isShown) row.current?.scrollIntoView({ block: "nearest" });
  }, [isShown]);
  const bearing = bearingOn(leg, north);
  const rail = leg.handrails[0];
  return (
    <tr
      ref={row}
      class={isShown ? "picked" : pointedLeg.value === at ? "pointed" : ""}
      aria-selected={isShown}
      data-leg={leg.n}
      onPointerEnter={() => (pointedLeg.value = at)}
      onPointerLeave={() => (pointedLeg.value = null)}
      onClick={() => pickLeg(at)}
    >
      <th scope="row">
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
      <td class="strong">{formatBearing(bearing)}</td>
      <td>{formatBearing(bearing === null ? null : normalise360(bearing + 180))}</td>
      <td>{formatAlong(leg.distanceM, unit)}</td>
      <td>{formatAlong(leg.slopeDistanceM, unit)}</td>
      <td>{formatHeight(leg.climbM, unit)}</td>
      <td>{formatHeight(leg.descentM, unit)}</td>
      <td>{formatAngle(leg.steepestDeg)}</td>
      <td>{formatNumber(leg.paces)}</td>
      <td>{formatDuration(leg.timeS)}</td>
      <td>{formatLength(leg.runningDistanceM, unit)}</td>
      <td>{formatDuration(leg.runningTimeS)}</td>
      <td class="text">{rail ? `${thingName(rail.kind, rail.name)}, ${rail.side}` : ""}</td>
      <td class="text">
        {leg.backstop
          ? `${thingName(leg.backstop.kind, leg.backstop.name)}, ${formatAlong(leg.backstop.beyondM, unit)}`
          : ""}
      </td>
    </tr>
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
        <th scope="row" colSpan={5} class="text">
          {words.table.total}
        </th>
        <td>{formatLength(totals.distanceM, unit)}</td>
        <td>{formatLength(totals.slopeDistanceM, unit)}</td>
        <td>{formatHeight(totals.climbM, unit)}</td>
        <td>{formatHeight(totals.descentM, unit)}</td>
        <td />
        <td>{formatNumber(totals.paces)}</td>
        <td>{formatDuration(totals.timeS)}</td>
        <td colSpan={4} />
      </tr>
    </tfoot>
  );
}

/** What stands under the table on paper stands here too: declination, and how the figures were made. */
function Statement({ all }: { readonly all: WalkFigures }) {
  const table = legTableWith(all);
  return (
    <div class="table-statement soft">
      <p data-test="declination-statement">{declinationStatement(table)}</p>
      <p>{methodStatements(table).join(" ")}</p>
      {all.notes.map((note) => (
        <p key={note}>{note}</p>
      ))}
    </div>
  );
}
