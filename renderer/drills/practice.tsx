/** One question at a time: answered, judged, and shown how it is found. */
import { useEffect, useState } from "preact/hooks";
import type { Question, Worksheet } from "../../core/course/drills/drill.ts";
import { COMPARED, judgeAnswer, type Judgement } from "../../core/course/drills/judge-answer.ts";
import { formatNumber } from "../../core/units/format.ts";
import { type DrawnPages, drawPages } from "../print/draw-pages.ts";
import { drillWords } from "../words/drill-words.ts";
import { asked, keepTry, orderOf, tally, tried } from "./drill-state.ts";
import { Piece } from "./piece.tsx";

export function Practice({ sheet }: { readonly sheet: Worksheet }) {
  const [pages, setPages] = useState<DrawnPages | null>(null);
  useEffect(() => {
    const stop = new AbortController();
    setPages(null);
    drawPages(orderOf(sheet.wish, ["pieces"]), { signal: stop.signal }).then(
      (drawn) => !stop.signal.aborted && setPages(drawn),
      // Sums alone have no piece of map: nothing to draw is no fault of the learner's.
      () => undefined,
    );
    return () => stop.abort();
  }, [sheet]);
  const all = sheet.questions.length;
  const question = sheet.questions[asked.value];
  if (!question) return null;
  const { done, right } = tally.value;
  return (
    <section class="drill-practice" aria-label={drillWords.question(asked.value + 1, all)}>
      <p class="drill-count">
        <b data-test="drill-count">{drillWords.question(asked.value + 1, all)}</b>{" "}
        {done > 0 && (
          <span class="soft" role="status" data-test="drill-tally">
            {drillWords.tally(right, done)}
          </span>
        )}
      </p>
      <p class="drill-ask" data-test="drill-ask">
        {question.ask}
      </p>
      <Piece key={question.n} question={question} pages={pages} />
      <Answering key={`a${question.n}`} question={question} />
      <div class="drill-turn">
        <button
          type="button"
          class="button edged"
          disabled={asked.value === 0}
          data-test="drill-before"
          onClick={() => (asked.value -= 1)}
        >
          {drillWords.before}
        </button>
        <button
          type="button"
          class="button edged"
          disabled={asked.value >= all - 1}
          data-test="drill-next"
          onClick={() => (asked.value += 1)}
        >
          {drillWords.next}
        </button>
      </div>
    </section>
  );
}

function Answering({ question }: { readonly question: Question }) {
  const before = tried.value.get(question.n);
  const [typed, setTyped] = useState(before?.typed ?? "");
  const [unread, setUnread] = useState(false);
  const compared = COMPARED.has(question.kind);
  const judge = (): void => {
    const judged = judgeAnswer(question, typed);
    setUnread(judged.kind === "unread");
    if (judged.kind !== "unread") keepTry(question.n, { typed, judged, own: null });
  };
  return (
    <>
      <form
        class="drill-answer"
        onSubmit={(event) => {
          event.preventDefault();
          if (!before) judge();
        }}
      >
        {compared ? (
          <span>{drillWords.onPaper}</span>
        ) : (
          <label>
            {drillWords.answer}{" "}
            <input
              class="blank"
              type="text"
              autocomplete="off"
              spellcheck={false}
              placeholder={drillWords.hints[question.kind]}
              aria-invalid={unread}
              value={typed}
              readOnly={before !== undefined}
              data-test="drill-answer"
              onInput={({ currentTarget }) => {
                setTyped(currentTarget.value);
                setUnread(false);
              }}
            />
          </label>
        )}{" "}
        <button
          type="submit"
          class="button strong"
          // The keyboard stays where it is.
          aria-disabled={before !== undefined}
          data-test="drill-check"
        >
          {compared ? drillWords.show : drillWords.check}
        </button>
      </form>
      <p role="status" class={unread ? "sum-fault" : "drill-said"} data-test="drill-said">
        {unread ? drillWords.unread : before ? saidOf(before.judged) : ""}
      </p>
      {before && <Solution question={question} judged={before.judged} />}
    </>
  );
}

function saidOf(judged: Judgement): string {
  if (judged.kind !== "right" && judged.kind !== "wrong") return "";
  const { off, unit } = judged;
  const shown =
    off === null ? null : `${formatNumber(off, off < 10 ? 1 : 0)}${unit === "°" ? "°" : "\u00a0m"}`;
  return judged.kind === "right" ? drillWords.right(shown) : drillWords.wrong(shown);
}

function Solution({ question, judged }: { readonly question: Question; readonly judged: Judgement }) {
  const { answer, working, n } = question;
  const now = tried.value.get(n);
  return (
    <section class="drill-solution" aria-label={drillWords.solution} data-test="drill-solution">
      <p>
        <b>{answer.text}</b> <span class="soft">{answer.accepted}</span>
      </p>
      <h3>{drillWords.solution}</h3>
      {working.map((step) => (
        <p key={step}>{step}</p>
      ))}
      {judged.kind === "compare" && now && (
        <p class="drill-own">
          {drillWords.mine}{" "}
          {([true, false] as const).map((own) => (
            <button
              key={String(own)}
              type="button"
              class="button edged small"
              aria-pressed={now.own === own}
              data-test={own ? "drill-yes" : "drill-no"}
              onClick={() => keepTry(n, { ...now, own })}
            >
              {own ? drillWords.yes : drillWords.no}
            </button>
          ))}
        </p>
      )}
    </section>
  );
}
