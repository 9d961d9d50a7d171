/** How a figure was worked out: asked for at the figure itself, told right below the figures it stands among. */
import { signal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { type HowFigure, howOf } from "../../core/legs/how/how.ts";
import type { LegFigures } from "../../core/legs/figures.ts";
import { legTableWith } from "../print/leg-table-of-walk.ts";
import { figures } from "../walk-state/figures.ts";
import { settingsWords } from "../words/settings-words.ts";

const words = settingsWords.slip;

/** The figure asked about; stays from leg to leg, so that one figure can be followed along a walk. */
export const askedFigure = signal<HowFigure | null>(null);

const panelId = (group: string): string => `how-${group}`;

interface AskProps {
  readonly figure: HowFigure;
  readonly group: string;
  /** The figure, or words where it has no room of its own. */
  readonly children: ComponentChildren;
}

/** A figure one can ask about. */
export function Ask({ figure, group, children }: AskProps) {
  const open = askedFigure.value === figure;
  const text = words.how(words.howTitle[figure].toLowerCase());
  return (
    <button
      type="button"
      class="ask"
      // With the figure as its name, this is what it is described by.
      title={text}
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
  const asked = askedFigure.value;
  const all = figures.value;
  const open = asked !== null && of.includes(asked) && all !== null;
  return (
    <div id={panelId(group)} class="how-panel" aria-live="polite" hidden={!open}>
      {open && (
        <div data-test="how">
          <h3>{words.howTitle[asked]}</h3>
          <ul class="how-list">
            {howOf(asked, leg, legTableWith(all)).map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </div>
      )}
    </div>
  );
}
