import { formatLength } from "../../core/units/format.ts";
import { lengthUnit } from "../app/settings.ts";
import { Radio } from "../settings/entry.tsx";
import { exchangeWords } from "../words/exchange-words.ts";
import type { CandidateLook } from "./foreign-messages.ts";
import { choose, pick } from "./import-state.ts";

const { in: say } = exchangeWords;

/** Times as files have them, to the minute, where both are so written. */
const period = ([first, last]: readonly [string, string]): string =>
  [...new Set([first, last].map((time) => time.slice(0, 16).replace("T", " ")))].join(" – ");

/** Which of the routes, tracks and sets of points in the file. */
export function Candidates({ found }: { readonly found: readonly CandidateLook[] }) {
  return (
    <fieldset class="exchange-part" data-test="candidates">
      <legend>{say.which}</legend>
      <div class="candidates">
        {found.map(({ kind, name, positions, lengthM, times }, i) => (
          <Radio
            key={i}
            name="candidate"
            chosen={pick.value === i}
            pick={() => choose(i)}
            test={`candidate-${i}`}
          >
            <strong>{say.kinds[kind]}</strong>
            {kind === "points" && name === null ? "" : `: ${name ?? say.unnamed}`}
            <span class="soft">
              {" "}
              {say.facts(positions, formatLength(lengthM, lengthUnit.value), times && period(times))}
            </span>
          </Radio>
        ))}
      </div>
    </fieldset>
  );
}
