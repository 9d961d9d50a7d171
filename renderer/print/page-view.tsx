/** The pages as they print, one at a time, to be looked at near and far. */
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { printWords } from "../words/print-words.ts";
import { PX_PER_MM, usePicture } from "./page-picture.ts";
import type { PagesInStep } from "./pages-in-step.ts";

const STEP = 1.25;
const LEAST = 0.25;
const MOST = 6;

const { pages: say } = printWords;

interface Props {
  readonly of: PagesInStep;
  /** What stands over pages that lack something; null when they are whole. */
  readonly hint?: string | null;
}

export function PageView({ of, hint = null }: Props) {
  const [at, setAt] = useState(0);
  /** Null shows the whole page. */
  const [zoom, setZoom] = useState<number | null>(null);
  const table = useRef<HTMLDivElement>(null);
  const room = useRoom(table);
  const shown = of.shown.value;
  const count = shown?.set.pages.length ?? 0;
  const index = Math.min(at, Math.max(0, count - 1));
  const page = shown?.set.pages[index];
  const paper = usePicture(shown?.key ?? null, index);

  const whole = page
    ? Math.min(
        (room.width - 32) / (page.widthMm * PX_PER_MM),
        (room.height - 32) / (page.heightMm * PX_PER_MM),
      )
    : 1;
  const scale = zoom ?? Math.max(0.1, whole);
  const turn = (to: number): void => setAt(Math.max(0, Math.min(count - 1, to)));
  const near = (by: number): void => setZoom(Math.max(LEAST, Math.min(MOST, scale * by)));

  const key = (event: KeyboardEvent): void => {
    const acts: Readonly<Record<string, () => void>> = {
      PageDown: () => turn(index + 1),
      PageUp: () => turn(index - 1),
      Home: () => turn(0),
      End: () => turn(count - 1),
      "+": () => near(STEP),
      "=": () => near(STEP),
      "-": () => near(1 / STEP),
      "0": () => setZoom(null),
    };
    const act = acts[event.key];
    if (!act || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    act();
  };

  return (
    <section class="print-pages" aria-label={say.label}>
      <div
        class="print-table"
        ref={table}
        tabIndex={0}
        role="group"
        aria-label={say.keys}
        onKeyDown={key}
        data-test="pages"
      >
        {page && (
          <div
            class="print-page"
            ref={paper}
            data-test="page-picture"
            style={{
              width: `${page.widthMm * PX_PER_MM * scale}px`,
              height: `${page.heightMm * PX_PER_MM * scale}px`,
            }}
          ></div>
        )}
      </div>
      <Progress of={of} hint={hint} />
      <div class="print-turn">
        <button
          type="button"
          class="button edged"
          aria-disabled={index === 0}
          data-test="page-before"
          onClick={() => turn(index - 1)}
        >
          {say.before}
        </button>
        <p role="status" data-test="page-title">
          {page ? say.page(index + 1, count, page.title) : ""}
        </p>
        <button
          type="button"
          class="button edged"
          aria-disabled={index >= count - 1}
          data-test="page-after"
          onClick={() => turn(index + 1)}
        >
          {say.after}
        </button>
        <span class="spread" />
        <button type="button" class="button" data-test="zoom-out" onClick={() => near(1 / STEP)}>
          {say.farther}
        </button>
        <button type="button" class="button" data-test="zoom-in" onClick={() => near(STEP)}>
          {say.nearer}
        </button>
        <button
          type="button"
          class="button"
          aria-pressed={zoom === null}
          data-test="zoom-whole"
          onClick={() => setZoom(null)}
        >
          {say.whole}
        </button>
        <button
          type="button"
          class="button"
          aria-pressed={zoom === 1}
          data-test="zoom-true"
          onClick={() => setZoom(1)}
        >
          {say.trueSize}
        </button>
      </div>
    </section>
  );
}

/** What stands instead of pages, or over those of before while the next are drawn. */
function Progress({ of, hint }: Required<Props>) {
  const now = of.pages.value;
  if (now.kind === "making")
    return (
      <div class="print-progress paper" data-test="pages-making">
        <p role="status">{now.all > 1 ? say.makingOf(now.done, now.all) : say.making}</p>
        <progress class="waiting-bar" value={now.done} max={now.all} aria-label={say.making} />
        <button type="button" class="button edged" data-test="stop-drawing" onClick={of.stop}>
          {say.stop}
        </button>
      </div>
    );
  if (now.kind === "stopped")
    return (
      <div class="print-progress paper">
        <p role="status">{say.stopped}</p>
        <button type="button" class="button edged" data-test="draw-again" onClick={of.again}>
          {say.again}
        </button>
      </div>
    );
  if (now.kind === "failed")
    return (
      <div class="print-progress paper fault" role="alert" data-test="pages-fault">
        <p>{say.failed}</p>
        <p>
          <b>{now.fault.what}</b> {now.fault.remedy ?? ""}
        </p>
      </div>
    );
  if (now.kind === "none")
    return (
      <div class="print-progress paper" data-test="pages-none">
        <p role="status">{say.none}</p>
      </div>
    );
  return hint ? (
    <p class="print-hint" role="status" data-test="pages-hint">
      {hint}
    </p>
  ) : null;
}

interface Room {
  readonly width: number;
  readonly height: number;
}

function useRoom(element: { readonly current: HTMLElement | null }): Room {
  const [room, setRoom] = useState<Room>({ width: 600, height: 800 });
  useLayoutEffect(() => {
    const at = element.current;
    if (!at) return;
    const watch = new ResizeObserver(() => setRoom({ width: at.clientWidth, height: at.clientHeight }));
    watch.observe(at);
    return () => watch.disconnect();
  }, [element]);
  return room;
}
