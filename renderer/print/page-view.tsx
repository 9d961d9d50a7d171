/** The pages as they print, one at a time, to be looked at near and far. */
import type { RefObject } from "preact";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { host } from "../host/host.ts";
import { sayFault } from "../app/notices.ts";
import { printWords } from "../words/print-words.ts";
import { sheetWords } from "../words/sheet-words.ts";
import { hasLeg } from "./print-state.ts";
import { openMap, shownSheet } from "../map-case/map-case.ts";
import { drawAgain, pages, shownSet, stopDrawing } from "./make-pages.ts";

/** A CSS pixel by definition: 96 to the inch. */
const PX_PER_MM = 96 / 25.4;
const STEP = 1.25;
const LEAST = 0.25;
const MOST = 6;
const KEEP = 6;

const { pages: say } = printWords;

export function PageView() {
  const [at, setAt] = useState(0);
  /** Null shows the whole page. */
  const [zoom, setZoom] = useState<number | null>(null);
  const table = useRef<HTMLDivElement>(null);
  const room = useRoom(table);
  const shown = shownSet.value;
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
      <Progress />
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
function Progress() {
  const now = pages.value;
  const map = openMap.value;
  const sheetHint = map ? sheetWords.paperGround(map.info.title) : sheetWords.paperBare;
  const mapHint = shownSheet.value ? sheetHint : map ? null : say.noMap;
  const empty = hasLeg.value ? mapHint : say.noWalk;
  if (now.kind === "making")
    return (
      <div class="print-progress paper" data-test="pages-making">
        <p role="status">{now.all > 1 ? say.makingOf(now.done, now.all) : say.making}</p>
        <progress class="waiting-bar" value={now.done} max={now.all} aria-label={say.making} />
        <button type="button" class="button edged" data-test="stop-drawing" onClick={() => stopDrawing()}>
          {say.stop}
        </button>
      </div>
    );
  if (now.kind === "stopped")
    return (
      <div class="print-progress paper">
        <p role="status">{say.stopped}</p>
        <button type="button" class="button edged" data-test="draw-again" onClick={drawAgain}>
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
  return empty ? (
    <p class="print-hint" role="status" data-test="pages-hint">
      {empty}
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

/** Where a page's picture is put; the one before stays until it is there. */
function usePicture(key: string | null, page: number): RefObject<HTMLDivElement | null> {
  const paper = useRef<HTMLDivElement>(null);
  const kept = useRef(new Map<string, Element>());
  useEffect(() => {
    if (key === null) return;
    const id = `${key}/${page}`;
    let wanted = true;
    const show = (picture: Element): void => {
      if (wanted) paper.current?.replaceChildren(picture);
    };
    const there = kept.current.get(id);
    if (there) show(there);
    else
      host.sheetsPage(key, page).then(
        (svg) => {
          const picture = pictureOf(svg);
          kept.current.set(id, picture);
          while (kept.current.size > KEEP) kept.current.delete(kept.current.keys().next().value as string);
          show(picture);
        },
        (thrown: unknown) => wanted && sayFault(thrown),
      );
    return () => void (wanted = false);
  }, [key, page]);
  return paper;
}

/** The host's page as a part of this document, which has its fonts; text in it can be picked. Nothing that runs comes along. */
export function pictureOf(svg: string): Element {
  const picture = document.importNode(
    new DOMParser().parseFromString(svg, "image/svg+xml").documentElement,
    true,
  );
  for (const script of picture.querySelectorAll("script, foreignObject")) script.remove();
  return picture;
}
