/** Where learners stopped, measured along the leg and square to it, turned into degrees and percent. */
import { Fault } from "../../core/fault.ts";
import type { Score } from "../../core/course/scoring.ts";
import { formatNumber, formatQuantity } from "../../core/units/format.ts";
import { Frame } from "../dialogs/frame.tsx";
import { Choice, Entry } from "../settings/entry.tsx";
import { readNumber } from "../settings/read-entry.ts";
import { walk } from "../walk-state/walk-document.ts";
import { fieldWords } from "../words/field-words.ts";
import {
  measure,
  measuredOn,
  ownLengthM,
  SCORED,
  scored,
  type ScoredLeg,
  scoredLegs,
  scores,
  scoreSpread,
  wipeMeasured,
} from "./score-state.ts";
import "../sums/sums.css";
import "./small-ground.css";

const words = fieldWords.score;
/** Legs as long as these are no legs by compass and count, metres. */
const LONGEST_M = 20_000;

function lengthOf(text: string): number {
  const value = readNumber(text, "100");
  if (value > 0 && value <= LONGEST_M) return value;
  throw new Fault("bad-argument", words.lengthBetween(LONGEST_M));
}

export function ScoreDialog({ answer }: { readonly answer: (done: true | null) => void }) {
  const legs = scoredLegs.value;
  return (
    <Frame title={words.title} wide onAway={() => answer(null)}>
      <p class="soft">{words.lead}</p>
      <p class="sum">
        {words.of}{" "}
        <Choice
          label={words.of}
          value={scored.value}
          options={SCORED.map((one) => [one, words.whose[one]] as const)}
          pick={(one) => (scored.value = one)}
          test="score-of"
        />{" "}
        {scored.value === "own" && (
          <>
            {words.long}{" "}
            <Entry
              label={words.length}
              value={String(ownLengthM.value)}
              take={(text) => (ownLengthM.value = lengthOf(text))}
              test="score-length"
            />{" "}
            {words.lengthEnd}
          </>
        )}
      </p>
      {legs.length > 0 ? <Table legs={legs} /> : <p data-test="score-none">{lacking()}</p>}
      <p class="soft">{words.few}</p>
      <div class="dialog-buttons">
        <button type="button" class="button edged" data-test="score-wipe" onClick={wipeMeasured}>
          {words.wipe}
        </button>
        <button type="button" class="button strong" data-test="score-close" onClick={() => answer(null)}>
          {fieldWords.close}
        </button>
      </div>
    </Frame>
  );
}

const lacking = (): string =>
  scored.value === "field" ? words.noField : walk.value.points.length < 2 ? words.noWalk : words.noFigures;

function Table({ legs }: { readonly legs: readonly ScoredLeg[] }) {
  const spread = scoreSpread.value;
  return (
    <div class="score-table" tabIndex={0} role="group" aria-label={words.title} data-test="score-table">
      <table>
        <thead>
          <tr>
            {[words.leg, words.beyond, words.aside, words.degrees, words.percent, words.miss].map(
              (heading) => (
                <th key={heading} scope="col">
                  {heading}
                </th>
              ),
            )}
          </tr>
        </thead>
        <tbody>
          {legs.map((leg, n) => (
            <Row key={n} leg={leg} n={n} score={scores.value[n] ?? null} />
          ))}
        </tbody>
        {spread && (
          <tfoot>
            <tr data-test="score-mean">
              <th scope="row" colSpan={3}>
                {words.all(spread.count)}
              </th>
              <td>
                {degreesText(spread.meanDeg)}
                {spread.spreadDeg !== null && words.spread(`${formatNumber(spread.spreadDeg, 1)}°`)}
              </td>
              <td>
                {percentText(spread.meanPercent)}
                {spread.spreadPercent !== null &&
                  words.spread(`${formatNumber(spread.spreadPercent, 1)}\u00a0%`)}
              </td>
              <td />
            </tr>
          </tfoot>
        )}
      </table>
    </div>
  );
}

interface RowProps {
  readonly leg: ScoredLeg;
  readonly n: number;
  readonly score: Score | null;
}

function Row({ leg, n, score }: RowProps) {
  const { beyond, aside } = measuredOn(leg, n);
  return (
    <tr data-test={`score-${n + 1}`}>
      <th scope="row">{leg.name}</th>
      <td>
        <Entry
          label={words.beyondOf(leg.name)}
          value={beyond}
          take={(text) => measure(leg, n, { beyond: text })}
          test={`score-beyond-${n + 1}`}
        />
      </td>
      <td>
        <Entry
          label={words.asideOf(leg.name)}
          value={aside}
          take={(text) => measure(leg, n, { aside: text })}
          test={`score-aside-${n + 1}`}
        />
      </td>
      <td>{score ? degreesText(score.bearingErrorDeg) : words.none}</td>
      <td>{score ? percentText(score.distanceErrorPercent) : words.none}</td>
      <td>{score ? formatQuantity(score.missM, "m", 1) : words.none}</td>
    </tr>
  );
}

/** What rounds to nothing has no side. */
const LEAST = 0.05;

function degreesText(value: number): string {
  if (Math.abs(value) < LEAST) return words.on;
  return `${formatNumber(Math.abs(value), 1)}° ${value > 0 ? words.right : words.left}`;
}

function percentText(value: number): string {
  if (Math.abs(value) < LEAST) return words.on;
  return `${formatNumber(Math.abs(value), 1)}\u00a0% ${value > 0 ? words.far : words.short}`;
}
