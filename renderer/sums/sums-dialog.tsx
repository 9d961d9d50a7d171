import { Frame } from "../dialogs/frame.tsx";
import { sumsWords } from "../words/sums-words.ts";
import { NorthsSum } from "./norths-sum.tsx";
import { RulerSums, ScaleSums } from "./scale-sums.tsx";
import { SlopeSum } from "./slope-sum.tsx";
import "./sums.css";

/** The sums one does over a map with ruler and pencil, as sentences with blanks: the rest of each follows at once. */
export function SumsDialog({ answer }: { readonly answer: (done: true | null) => void }) {
  return (
    <Frame title={sumsWords.title} wide onAway={() => answer(null)}>
      <p class="soft">{sumsWords.lead}</p>
      <div class="sums" data-test="sums">
        <div>
          <ScaleSums />
          <RulerSums />
          <SlopeSum />
        </div>
        <div>
          <NorthsSum />
        </div>
      </div>
      <div class="dialog-buttons">
        <button type="button" class="button" onClick={() => answer(null)}>
          {sumsWords.close}
        </button>
      </div>
    </Frame>
  );
}
