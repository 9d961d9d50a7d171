/** The slip of the walks that lie beside, each with what can be done with it. */
import { useLayoutEffect, useRef } from "preact/hooks";
import { pointLabel } from "../../core/walk/walk.ts";
import { walk } from "../walk-state/walk-document.ts";
import { besideWords } from "../words/beside-words.ts";
import "./beside.css";
import {
  besideOpen,
  type BesideWalk,
  besideWalks,
  cutAt,
  cutHere,
  joinBeside,
  layChosen,
  layCopy,
  showBeside,
  takeAway,
  takeUp,
} from "./beside-state.ts";

export const BesideSlip = () => (besideOpen.value ? <Slip /> : null);

function Slip() {
  const leave = useRef<HTMLButtonElement>(null);
  // Escape, and the keyboard, are the slip's from the moment it is there.
  useLayoutEffect(() => leave.current?.focus(), []);
  const cut = cutAt.value;
  const close = (): void => void (besideOpen.value = false);
  return (
    <section
      class="paper corner-slip"
      aria-label={besideWords.title}
      data-test="beside-slip"
      onKeyDown={(event) => {
        if (event.key !== "Escape") return;
        event.stopPropagation();
        close();
      }}
    >
      <div class="beside-head">
        <h2>{besideWords.title}</h2>
        <button ref={leave} type="button" class="button" onClick={close} title="Esc">
          {besideWords.leave}
        </button>
      </div>
      <p class="soft">{besideWalks.value.length === 0 ? besideWords.none : besideWords.lead}</p>
      <ul class="beside-list">
        {besideWalks.value.map((one) => (
          <Row key={one.id} one={one} />
        ))}
      </ul>
      <div class="beside-line">
        <button type="button" class="button edged" onClick={() => void layChosen()}>
          {besideWords.add}
        </button>
        <button
          type="button"
          class="button edged"
          disabled={walk.value.points.length === 0}
          onClick={layCopy}
        >
          {besideWords.copy}
        </button>
        {cut === null ? (
          <p class="soft small-print">{besideWords.splitHint}</p>
        ) : (
          <button type="button" class="button edged" data-test="cut" onClick={cutHere}>
            {besideWords.split(pointLabel(walk.value, cut))}
          </button>
        )}
      </div>
    </section>
  );
}

function Row({ one }: { readonly one: BesideWalk }) {
  const { title, points } = one.walk;
  return (
    <li data-test="beside-walk">
      <label class="beside-line">
        <input
          type="checkbox"
          checked={one.shown}
          aria-label={besideWords.show(title)}
          onChange={(event) => showBeside(one.id, event.currentTarget.checked)}
        />
        <b>{title}</b>
        <span class="soft">
          {besideWords.legs(Math.max(0, points.length - 1))}
          {one.saved ? "" : `, ${besideWords.notSaved}`}
        </span>
      </label>
      <div class="beside-line">
        <button type="button" class="button edged" onClick={() => void takeUp(one.id)}>
          {besideWords.takeUp}
        </button>
        <button type="button" class="button" onClick={() => joinBeside(one.id)}>
          {besideWords.join}
        </button>
        <button type="button" class="button" onClick={() => takeAway(one.id)}>
          {besideWords.away}
        </button>
      </div>
    </li>
  );
}
