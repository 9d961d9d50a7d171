/** What the open map's layers hold: looked up, and set by a person. */
import { Fault } from "../../core/fault.ts";
import type { ArchiveFacts } from "../../core/map/archive-facts.ts";
import { roleProblems, type Roles } from "../../core/map/set-roles.ts";
import { worker } from "../analysis/worker.ts";
import { sayFault } from "../app/notices.ts";
import { host } from "../host/host.ts";
import { refreshFigures } from "../walk-state/figures.ts";
import { archivesOf, openMap } from "./map-case.ts";

/** What is in the layers of the open map. @throws Fault */
export function factsOfOpenMap(): Promise<ArchiveFacts> {
  const open = openMap.peek();
  if (!open) throw new Fault("no-file", "No map is open.");
  return worker.ask("archiveFacts", [archivesOf(open.opened).archive]);
}

/**
 * Lets the open map's layers play other roles from now on: on the map, in figures and aids, and when it is opened again.
 * @param roles null goes back to what the archive says, or to the guess
 * @returns whether they do now
 */
export async function setRoles(roles: Roles | null, facts: ArchiveFacts): Promise<boolean> {
  const open = openMap.peek();
  if (!open || (roles && roleProblems(roles, facts.layers).length > 0)) return false;
  try {
    const { archive, terrain } = archivesOf(open.opened);
    const { info } = await worker.ask("openMap", [archive, open.tiles.terrain && terrain, roles]);
    const { id, fingerprint } = facts;
    if (roles)
      await host.rememberRoles({ id, fingerprint, layers: facts.layers.map(({ name }) => name), roles });
    else await host.forgetRoles(id, fingerprint);
    // Another map may have been opened meanwhile.
    if (openMap.peek() !== open) return false;
    openMap.value = { ...open, info, tiles: { ...open.tiles, info } };
    refreshFigures();
    return true;
  } catch (thrown) {
    sayFault(thrown);
    return false;
  }
}
