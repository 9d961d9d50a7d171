/** Opens a map with the roles a person set for it: the host remembers them. */
import { settleRoles } from "../../core/map/set-roles.ts";
import { worker } from "../analysis/worker.ts";
import { host } from "../host/host.ts";
import type { ArchiveAddress, OpenedGround } from "../worker/messages.ts";

/** Opens an archive in the worker with the roles that are remembered for it. @returns also what a person should know of them */
export async function openGroundAsSet(
  archive: ArchiveAddress,
  terrain: ArchiveAddress | null,
  signal: AbortSignal,
): Promise<{ readonly ground: OpenedGround; readonly notices: readonly string[] }> {
  const ground = await worker.ask("openMap", [archive, terrain, null], signal);
  const memory = await host.recallRoles(ground.info.id);
  if (memory.length === 0) return { ground, notices: [] };
  const { roles, notices } = settleRoles(memory, await worker.ask("archiveFacts", [archive], signal));
  if (!roles) return { ground, notices };
  return { ground: await worker.ask("openMap", [archive, terrain, roles], signal), notices };
}
