/** The piece of map a question is asked on, as it prints, at true size or larger. */
import { useState } from "preact/hooks";
import type { Question } from "../../core/course/drills/drill.ts";
import { Fault } from "../../core/fault.ts";
import type { DrawnPages } from "../print/draw-pages.ts";
import { PX_PER_MM, usePicture } from "../print/page-picture.ts";
import { drillWords } from "../words/drill-words.ts";

const STEP = 1.25;
const MOST = 4;

interface Props {
  readonly question: Question;
  /** Null while they are drawn. */
  readonly pages: DrawnPages | null;
}

export function Piece({ question, pages }: Props) {
  const [zoom, setZoom] = useState(1);
  const [fault, setFault] = useState<Fault | null>(null);
  const index = pages?.set.pages.findIndex(({ title }) => title === `Question ${question.n}`) ?? -1;
  const page = pages?.set.pages[index];
  const paper = usePicture(pages?.key ?? null, page ? index : null, (thrown) => setFault(Fault.from(thrown)));
  if (question.marks.length === 0) return null;
  if (fault) return <p class="choice-fault">{fault.message}</p>;
  if (pages && !page) return <p class="soft">{drillWords.noPiece}</p>;
  return (
    <div class="drill-piece">
      <div
        class="drill-table"
        tabIndex={0}
        role="group"
        aria-label={drillWords.map(question.n)}
        data-test="drill-piece"
      >
        {page && (
          <div
            class="print-page"
            ref={paper}
            style={{
              width: `${page.widthMm * PX_PER_MM * zoom}px`,
              height: `${page.heightMm * PX_PER_MM * zoom}px`,
            }}
          />
        )}
      </div>
      <div class="drill-zoom">
        <button type="button" class="button" onClick={() => setZoom(Math.max(1, zoom / STEP))}>
          {drillWords.smaller}
        </button>
        <button type="button" class="button" onClick={() => setZoom(Math.min(MOST, zoom * STEP))}>
          {drillWords.larger}
        </button>
        <button type="button" class="button" aria-pressed={zoom === 1} onClick={() => setZoom(1)}>
          {drillWords.trueSize}
        </button>
        <span class="drill-bar" aria-hidden="true" />
        <span class="soft">{drillWords.bar}</span>
      </div>
    </div>
  );
}
