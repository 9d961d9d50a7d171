/** The layers of the open map in a table: what was seen in each, what it is used as; a person can correct it. */
import { useEffect, useState } from "preact/hooks";
import type { ArchiveFacts, SeenLayer } from "../../core/map/archive-facts.ts";
import { roleProblems } from "../../core/map/set-roles.ts";
import { sayFault } from "../app/notices.ts";
import { Frame } from "../dialogs/frame.tsx";
import { rolesWords } from "../words/roles-words.ts";
import { words } from "../words/words.ts";
import { openMap } from "./map-case.ts";
import { factsOfOpenMap, setRoles } from "./map-roles.ts";
import { type RoleRow, rolesOfRows, rowsOf } from "./roles-draft.ts";
import { RoleRowCells } from "./roles-row.tsx";
import "./roles.css";

export function RolesDialog({ answer }: { readonly answer: (done: true | null) => void }) {
  const [facts, setFacts] = useState<ArchiveFacts | null>(null);
  const [rows, setRows] = useState<readonly RoleRow[]>([]);
  const info = openMap.value?.info;

  useEffect(() => {
    factsOfOpenMap()
      .then((found) => {
        setFacts(found);
        setRows(rowsOf(openMap.peek()?.info.roles ?? found.roles, found.layers));
      })
      .catch((thrown: unknown) => {
        sayFault(thrown);
        answer(null);
      });
  }, []);

  const problems = facts ? roleProblems(rolesOfRows(rows), facts.layers) : [];
  const take = async (): Promise<void> => {
    if (facts && (await setRoles(rolesOfRows(rows), facts))) answer(true);
  };
  const back = async (): Promise<void> => {
    if (facts && (await setRoles(null, facts))) setRows(rowsOf(facts.roles, facts.layers));
  };
  const change = (at: number, row: RoleRow): void => setRows(rows.map((one, i) => (i === at ? row : one)));
  const again = (at: number, row: RoleRow): void =>
    setRows([...rows.slice(0, at + 1), row, ...rows.slice(at + 1)]);

  return (
    <Frame title={rolesWords.command} wide onAway={() => answer(null)}>
      {info && <p data-test="roles-from">{rolesWords.from[info.rolesFrom]}</p>}
      {!facts ? (
        <p class="soft">{rolesWords.looking}</p>
      ) : (
        <>
          <div class="roles-scroll">
            <table class="roles" data-test="roles">
              <thead>
                <tr>
                  <th scope="col">{rolesWords.layer}</th>
                  <th scope="col">{rolesWords.seen}</th>
                  <th scope="col">{rolesWords.role}</th>
                  <th scope="col">{rolesWords.only}</th>
                  <th scope="col">{rolesWords.fields}</th>
                </tr>
              </thead>
              <tbody>
                {rows.map((row, i) => (
                  <RoleRowCells
                    key={i}
                    row={row}
                    layer={layerOf(facts, row.layer)}
                    change={(next) => change(i, next)}
                    again={(next) => again(i, next)}
                  />
                ))}
              </tbody>
            </table>
          </div>
          <p class="soft">{rolesWords.lookedAt}</p>
          <ul class="roles-problems" aria-live="polite">
            {problems.map(({ what }) => (
              <li key={what}>{what}</li>
            ))}
          </ul>
        </>
      )}
      <div class="dialog-buttons">
        {facts && info?.rolesFrom === "user" && (
          <button type="button" class="button" onClick={() => void back()}>
            {facts.rolesFrom === "guess" ? rolesWords.back : rolesWords.backToMap}
          </button>
        )}
        <button type="button" class="button" onClick={() => answer(null)}>
          {words.dialogs.close}
        </button>
        <button
          type="button"
          class="button strong"
          disabled={!facts || problems.length > 0}
          onClick={() => void take()}
        >
          {rolesWords.take}
        </button>
      </div>
    </Frame>
  );
}

const layerOf = ({ layers }: ArchiveFacts, name: string): SeenLayer =>
  layers.find((layer) => layer.name === name) ?? { name, features: 0, fields: [] };
