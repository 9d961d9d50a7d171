import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { archiveFacts } from "../../../core/map/archive-facts.ts";
import {
  type RememberedRoles,
  rolesOf,
  type SettledRoles,
  settleRoles,
} from "../../../core/map/set-roles.ts";
import type { ByteSource } from "../../../core/map/source.ts";
import { GROUND_DECODERS } from "../ground-decoders.ts";

/** Archives remembered; the one set longest ago goes first. No source. */
export const MOST_REMEMBERED = 200;

/** Remembered roles as the settings file holds them; what makes no sense of itself is passed over. */
export function rememberedRolesIn(value: unknown): RememberedRoles[] {
  if (!Array.isArray(value)) return [];
  return (value as unknown[]).flatMap((entry) => {
    const { id, fingerprint, layers, roles } = (entry ?? {}) as Readonly<Record<string, unknown>>;
    const found = rolesOf(roles);
    if (typeof id !== "string" || typeof fingerprint !== "string" || !Array.isArray(layers) || !found)
      return [];
    return [{ id, fingerprint, layers: layers.filter((name) => typeof name === "string"), roles: found }];
  });
}

export const withRemembered = (
  all: readonly RememberedRoles[],
  { id, fingerprint }: Pick<RememberedRoles, "id" | "fingerprint">,
  now: RememberedRoles | null,
): RememberedRoles[] =>
  [...all.filter((one) => one.id !== id || one.fingerprint !== fingerprint), ...(now ? [now] : [])].slice(
    -MOST_REMEMBERED,
  );

/**
 * Roles a person set for an archive in the window, for a host without one. The settings file is read as it is: nothing is
 * remembered where there is none, or where it cannot be read.
 * @param folder of the settings
 */
export async function rolesSetFor(source: ByteSource, folder: string): Promise<SettledRoles> {
  const text = await readFile(join(folder, "settings.json"), "utf8").catch(() => "{}");
  let stored: unknown = {};
  try {
    stored = JSON.parse(text);
  } catch {
    // The window says so, and mends it.
  }
  const memory = rememberedRolesIn((stored as { readonly mapRoles?: unknown } | null)?.mapRoles);
  if (memory.length === 0) return { roles: null, notices: [] };
  return settleRoles(memory, await archiveFacts(source, GROUND_DECODERS));
}
