/** How likely the target is found, what each aid is worth, and what would help: in walkers of a hundred. */
import type { LegAdvice, Proposal } from "../../core/legs/advice/advice.ts";
import type { LegFigures } from "../../core/legs/figures.ts";
import type { Changed } from "../../core/legs/odds/worth-of-aids.ts";
import { NOISE } from "../../core/legs/odds/worth-of-aids.ts";
import { ask } from "../dialogs/dialogs.ts";
import { settings } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { openSheet } from "../settings/settings-state.ts";
import { Choice } from "../settings/entry.tsx";
import { shownLeg } from "../walk-state/selection.ts";
import { adviceWords } from "../words/advice-words.ts";
import { settingsWords } from "../words/settings-words.ts";
import { askAgain, shownAdvice } from "./advice-state.ts";
import { changeAids, take } from "./apply.ts";
import { AskAdvice, HowAdvice } from "./ask-advice.tsx";
import { Fold } from "./fold.tsx";
import { of100, type Of100 } from "./of-100.ts";
import { pointing } from "./pointed-aid.ts";

const words = adviceWords.odds;

export function OddsPart({ leg }: { readonly leg: LegFigures }) {
  if (!openMap.value || leg.bearingTrueDeg === null) return null;
  const { advice, isCurrent, fault } = shownAdvice.value;
  return (
    <section class={`odds-part ${isCurrent ? "" : "old"}`} aria-busy={!isCurrent} data-test="odds-part">
      <div class="crossing-head">
        <h3>
          <AskAdvice figure="odds">{words.title(leg.to)}</AskAdvice>
        </h3>
        {!isCurrent && (
          <span class="soft working" role="status">
            {adviceWords.working}
          </span>
        )}
      </div>
      {fault && (
        <p>
          {adviceWords.failed(fault.what)}{" "}
          <button type="button" class="link" onClick={askAgain}>
            {adviceWords.again}
          </button>
        </p>
      )}
      {advice?.odds && <Odds advice={advice} leg={leg} />}
      {advice && !advice.odds && advice.notes.map((note) => <p key={note}>{note}</p>)}
      <HowAdvice figure="odds" leg={leg} />
    </section>
  );
}

function Odds({ advice, leg }: { readonly advice: LegAdvice; readonly leg: LegFigures }) {
  if (!advice.odds) return null;
  const parts = of100(advice.odds);
  return (
    <>
      <div {...pointing("cloud")}>
        <Bar parts={parts} />
        <OddsLegend parts={parts} />
      </div>
      <p class="soft walkers-keep">
        {words.walkersKeep}{" "}
        <Choice
          label={words.steering}
          value={settings.value.aids.steering}
          options={[
            ["marks", words.steerings.marks],
            ["unaided", words.steerings.unaided],
          ]}
          pick={(steering) => changeAids({ steering })}
          test="steering"
        />
      </p>
      <Better better={advice.better} />
      <Fold id="worth" minor title={words.worth}>
        <Worth advice={advice} leg={leg} />
        {settings.value.showCloud && <p class="soft small-print">{words.cloud}</p>}
        <button
          type="button"
          class="link"
          data-test="odds-settings"
          onClick={() => {
            openSheet.value = "odds";
            void ask("settings", null);
          }}
        >
          {settingsWords.sheets.odds}…
        </button>
      </Fold>
    </>
  );
}

/** One length for a hundred walkers. Found is full, stopped is barred, passed by is empty: it reads without colour. */
export function Bar({ parts }: { readonly parts: Of100 }) {
  const { find, stopped, missed } = parts;
  return (
    <div class="odds-bar" role="img" aria-label={sentence(parts)} data-test="odds-bar">
      {find > 0 && <span class="odds-find" style={{ flexGrow: find }} />}
      {stopped > 0 && <span class="odds-stopped" style={{ flexGrow: stopped }} />}
      {missed > 0 && <span class="odds-missed" style={{ flexGrow: missed }} />}
    </div>
  );
}

const sentence = ({ find, stopped, missed }: Of100): string =>
  words.bar([words.legendFind(find), words.legendStopped(stopped), words.legendMissed(missed)].join(", "));

/** "73 of 100 find it, 12 are stopped, 15 pass by", each with the mark it has in the bar. */
function OddsLegend({ parts: { find, stopped, missed } }: { readonly parts: Of100 }) {
  return (
    <p class="odds-legend" data-test="odds">
      <span>
        <i class="odds-find" aria-hidden="true" />
        <b>{find}</b> {words.of100} {words.find},
      </span>{" "}
      <span>
        <i class="odds-stopped" aria-hidden="true" />
        {words.legendStopped(stopped)},
      </span>{" "}
      <span>
        <i class="odds-missed" aria-hidden="true" />
        {words.legendMissed(missed)}
      </span>
    </p>
  );
}

function Worth({ advice, leg }: { readonly advice: LegAdvice; readonly leg: LegFigures }) {
  const own = advice.odds?.find ?? 0;
  return (
    <ul class="worth" data-test="worth">
      {advice.worth.map((one, i) => (
        <li key={i}>
          <span>{worthWords(one, leg)}</span>
          <span class="worth-figure">
            <b>{of100(one.odds).find}</b>{" "}
            <span class="soft">
              {Math.abs(one.odds.find - own) <= NOISE ? "=" : one.odds.find > own ? "▲" : "▼"}
            </span>
          </span>
        </li>
      ))}
    </ul>
  );
}

function worthWords({ change, attackPoint }: Changed, leg: LegFigures): string {
  const text = words.worthOf[change];
  if (change !== "withAttackPoint") return text;
  const place = leg.attackPoints[attackPoint ?? -1]?.words;
  return place ? `${text} ${place}` : words.byPlace;
}

function Better({ better }: { readonly better: readonly Proposal[] }) {
  if (better.length === 0) return null;
  return (
    <div class="better" data-test="better">
      {better.map((proposal, i) => (
        <div key={i} class="proposal" {...proposalPointing(proposal, i)}>
          <p>
            {proposal.words} <b>{adviceWords.better.find(of100(proposal.odds).find)}</b>.
          </p>
          <button
            type="button"
            class="button edged"
            data-test="take"
            data-change={proposal.change}
            onClick={() => shownLeg.value !== null && take(proposal, shownLeg.value)}
          >
            {adviceWords.use}
          </button>
        </div>
      ))}
    </div>
  );
}

const proposalPointing = (proposal: Proposal, at: number) =>
  proposal.change === "aimOff"
    ? pointing("aim")
    : proposal.change === "attackPoint" || proposal.change === "split"
      ? pointing("proposal", at)
      : {};
