/** One kept text: from when, what differs, and a picture of it over what it is compared with. */
import { useMemo, useState } from "preact/hooks";
import type { ComponentChildren } from "preact";
import { compareWalks } from "../../core/walk/compare-walks.ts";
import { parseWalk } from "../../core/walk/walk-file.ts";
import type { Walk } from "../../core/walk/walk.ts";
import { figureStyle } from "../../core/units/figure-style.ts";
import { formatLength } from "../../core/units/format.ts";
import { lengthUnit } from "../app/settings.ts";
import { LinePicture } from "../exchange/line-picture.tsx";
import { today } from "../walk-state/today.ts";
import { savingWords } from "../words/saving-words.ts";
import "../exchange/exchange.css";
import "./recovery.css";

/** Null for a text that is no walk. */
export function walkIn(text: string | null): Walk | null {
  try {
    return text === null ? null : parseWalk(text, "", today()).walk;
  } catch {
    return null;
  }
}

export const whenText = (at: number): string => figureStyle().moment(at);

interface Props {
  readonly head: string;
  readonly text: string;
  /** What it is compared with; null when with nothing. */
  readonly against: Walk | null;
  readonly children: ComponentChildren;
}

export function LookAt({ head, text, against, children }: Props) {
  const [shown, setShown] = useState(false);
  const kept = useMemo(() => walkIn(text), [text]);
  const empty = useMemo(() => kept && { ...kept, points: [] }, [kept]);
  const by = kept && empty && compareWalks(against ?? empty, kept);
  const line = useMemo(
    () => Float64Array.from((against?.points ?? []).flatMap(({ lonLat }) => lonLat)),
    [against],
  );
  return (
    <li class="kept" data-test="kept">
      <div class="kept-row">
        <span>
          <strong>{head}</strong>
          <br />
          <span class="soft" data-test="kept-differs">
            {by ? savingWords.differs(by, (m) => formatLength(m, lengthUnit.value)) : savingWords.unreadable}
          </span>
        </span>
        <span class="kept-buttons">
          <button
            type="button"
            class="button edged"
            aria-expanded={shown}
            disabled={!kept || kept.points.length === 0}
            onClick={() => setShown(!shown)}
          >
            {shown ? savingWords.lookAway : savingWords.look}
          </button>
          {children}
        </span>
      </div>
      {shown && kept && <LinePicture walk={kept} line={line} />}
    </li>
  );
}
