/** How a figure was worked out: asked for at the figure itself, told right below the figures it stands among. */
import { signal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import type { HowAdviceFigure } from "../../core/legs/how/how-advice.ts";
import { type HowFigure, howOf } from "../../core/legs/how/how.ts";
import type { LegFigures } from "../../core/legs/figures.ts";
import { legTableWith } from "../print/leg-table-of-walk.ts";
import { figures } from "../walk-state/figures.ts";
import { settingsWords } from "../words/settings-words.ts";

const words = settingsWords.slip;

/** What can be asked about: a figure, or a piece of advice. */
type Askable = HowFigure | HowAdviceFigure;

/** The figure asked about; stays from leg to leg, so that one figure can be followed along a walk. */
export const askedFigure = signal<Askable | null>(null);

const panelId = (group: string): string => `how-${group}`;

interface AskProps<F> {
  readonly figure: F;
  readonly group: string;
  /** The figure, or words where it has no room of its own. */
  readonly children: ComponentChildren;
}

/** A figure one can ask about. */
export const Ask = (props: AskProps<HowFigure>) => <AskFor {...props} title={words.howTitle[props.figure]} />;

/** @param title of the answer */
export function AskFor({ figure, group, title, children }: AskProps<Askable> & { readonly title: string }) {
  const open = askedFigure.value === figure;
  return (
    <button
      type="button"
      class="ask"
      // With the figure as its name, this is what it is described by.
      title={words.how(title.toLowerCase())}
      aria-expanded={open}
      aria-controls={panelId(group)}
      data-ask={figure}
      onClick={() => (askedFigure.value = open ? null : figure)}
      onKeyDown={(event) => {
        if (event.key !== "Escape" || !open) return;
        event.preventDefault();
        event.stopPropagation();
        askedFigure.value = null;
      }}
    >
      {children}
    </button>
  );
}

interface PanelProps {
  readonly group: string;
  readonly of: readonly HowFigure[];
  readonly leg: LegFigures;
}

/** The answer for whichever of a group of figures was asked about. */
export function HowPanel({ group, of, leg }: PanelProps) {
  const asked = askedFigure.value as HowFigure | null;
  const all = figures.value;
  const open = asked !== null && of.includes(asked) && all !== null;
  return (
    <Asked
      group={group}
      of={all === null ? [] : of}
      title={open ? words.howTitle[asked] : ""}
      sentences={() => (open ? howOf(asked, leg, legTableWith(all)) : [])}
    />
  );
}

interface AskedProps {
  readonly group: string;
  readonly of: readonly Askable[];
  readonly title: string;
  readonly sentences: () => readonly string[];
}

/** The place below figures where the answer about one of them appears. */
export function Asked({ group, of, title, sentences }: AskedProps) {
  const asked = askedFigure.value;
  const open = asked !== null && of.includes(asked);
  return (
    <div id={panelId(group)} class="how-panel" aria-live="polite" hidden={!open}>
      {open && (
        <div data-test="how">
          <h3>{title}</h3>
          <ul class="how-list">
            {sentences().map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </div>
      )}
    </div>
  );
}
