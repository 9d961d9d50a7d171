/** What this program is, whose work it stands on, and where the data of the open map comes from. */
import { formatDay } from "../../core/units/format.ts";
import { hostInfo } from "../app/host-info.ts";
import { Frame } from "../dialogs/frame.tsx";
import { openMap } from "../map-case/map-case.ts";
import { aboutWords } from "../words/about-words.ts";
import "./about.css";

/** Name and licence of every package that is part of the program; written in when it is built (vite.config.packages.ts). */
declare const LEGWRIGHT_PACKAGES: readonly (readonly [name: string, licence: string])[];

export function AboutDialog({ answer }: { readonly answer: (done: true | null) => void }) {
  const open = openMap.value;
  return (
    <Frame title={aboutWords.title(hostInfo.value?.version ?? "")} onAway={() => answer(null)}>
      <div class="about" data-test="about">
        <p>{aboutWords.what}</p>
        <p>{aboutWords.licence}</p>
        <h3>{aboutWords.mapTitle}</h3>
        {open ? (
          <dl>
            <dt>{aboutWords.map}</dt>
            <dd>{open.info.title}</dd>
            {open.info.source && (
              <>
                <dt>{aboutWords.source}</dt>
                <dd>{open.info.source}</dd>
              </>
            )}
            {open.info.attribution && (
              <>
                <dt>{aboutWords.attribution}</dt>
                <dd>{open.info.attribution}</dd>
              </>
            )}
            {open.info.date && (
              <>
                <dt>{aboutWords.date}</dt>
                <dd>{formatDay(open.info.date)}</dd>
              </>
            )}
          </dl>
        ) : (
          <p class="soft">{aboutWords.noMap}</p>
        )}
        <h3>{aboutWords.modelsTitle}</h3>
        <p>{aboutWords.models}</p>
        <h3>{aboutWords.packagesTitle}</h3>
        <ul class="about-packages" tabIndex={0} aria-label={aboutWords.packagesTitle}>
          {LEGWRIGHT_PACKAGES.map(([name, licence]) => (
            <li key={name}>
              {name} <span class="soft">{licence}</span>
            </li>
          ))}
        </ul>
      </div>
      <div class="dialog-buttons">
        <button type="button" class="button strong" autofocus onClick={() => answer(true)}>
          {aboutWords.close}
        </button>
      </div>
    </Frame>
  );
}
