/** Who goes, for the route card. */
import { NO_PARTY, type PrintParty } from "../../core/sheet/sheet-job.ts";
import { Entry } from "../settings/entry.tsx";
import { printWords } from "../words/print-words.ts";
import { choices, choose } from "./print-state.ts";

const { card: say } = printWords;

export function CardChoices() {
  const { party } = choices.value;
  return (
    <fieldset class="print-part">
      <legend>{say.heading}</legend>
      {(Object.keys(NO_PARTY) as (keyof PrintParty)[]).map((one) => (
        <div class="print-line" key={one}>
          <span aria-hidden="true">{say.party[one]}</span>
          <Entry
            label={say.party[one]}
            value={party[one]}
            take={(text) => choose({ party: { ...choices.peek().party, [one]: text.slice(0, 2000) } })}
            placeholder=""
            test={`party-${one}`}
          />
        </div>
      ))}
      <p class="soft">{say.fill}</p>
    </fieldset>
  );
}
