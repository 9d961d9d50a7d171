import { CAUTIONS, INVENTED } from "../../core/legs/cautions.ts";
import { openMap } from "../map-case/map-case.ts";
import { words } from "../words/words.ts";
import { Frame } from "./frame.tsx";

/** The usual cautions: on the first screen, and whenever they are asked for. */
export function CautionsDialog({ answer }: { readonly answer: (seen: true | null) => void }) {
  return (
    <Frame title={words.dialogs.cautionTitle} onAway={() => answer(true)}>
      <p>{words.dialogs.cautionLead}</p>
      <ul class="cautions">
        {CAUTIONS.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
        {openMap.value?.info.invented && <li>{INVENTED}</li>}
      </ul>
      <div class="dialog-buttons">
        <button type="button" class="button strong" autofocus onClick={() => answer(true)}>
          {words.dialogs.cautionSeen}
        </button>
      </div>
    </Frame>
  );
}
