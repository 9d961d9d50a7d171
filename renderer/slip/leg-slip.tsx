/** The leg slip, read from top to bottom in the order of use: set, know, follow, be stopped, mind, judge, do better. */
import type { LegFigures } from "../../core/legs/figures.ts";
import { runCommand } from "../app/commands.ts";
import { RecentList } from "../app/recent-list.tsx";
import { openMap } from "../map-case/map-case.ts";
import { figures, figuresFault, shownFigures } from "../walk-state/figures.ts";
import { pickLeg, shownLeg } from "../walk-state/selection.ts";
import { walk } from "../walk-state/walk-document.ts";
import { words } from "../words/words.ts";
import { InstructionField } from "../advice/instruction-field.tsx";
import { LowOdds } from "../advice/low-odds.tsx";
import { OddsPart } from "../advice/odds.tsx";
import { OtherWay } from "../advice/other-way.tsx";
import { WayOut } from "../advice/way-out.tsx";
import "../advice/advice.css";
import { FirstMap } from "../map-case/first-map.tsx";
import { Aids, Met } from "./aids.tsx";
import { Bearing } from "./bearing.tsx";
import { Hours } from "./hours.tsx";
import { NorthsHere } from "./norths-here.tsx";
import { PointNotes } from "./point-notes.tsx";
import { SixFigures } from "./six-figures.tsx";

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
      {points === 0 && <RecentList />}
      {points === 0 && <FirstMap />}
    </div>
  );
}

function Leg({ leg, count }: { readonly leg: LegFigures; readonly count: number }) {
  const at = shownLeg.value ?? 0;
  const all = figures.value;
  return (
    <>
      <header class="slip-head">
        <h2>{words.slip.heading(leg.n, leg.from, leg.to)}</h2>
        <span class="soft">{words.slip.of(count)}</span>
        <LowOdds leg={at} />
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
      <Bearing leg={leg} />
      <SixFigures leg={leg} />
      {all && <Hours leg={leg} all={all} />}
      {all && <InstructionField leg={leg} all={all} />}
      <Aids leg={leg} />
      <OddsPart leg={leg} />
      <OtherWay leg={leg} />
      <WayOut leg={leg} />
      <Met leg={leg} />
      <PointNotes leg={at} />
      {all && <NorthsHere leg={leg} declination={all.declination} />}
      {leg.notes.length > 0 && (
        <section class="slip-notes soft">
          {leg.notes.map((note) => (
            <p key={note}>{note}</p>
          ))}
        </section>
      )}
    </>
  );
}
