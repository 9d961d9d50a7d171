/** Sheets show a map in the roles a person set for it. The roles asked of the map are compared with those set. */
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { archiveFacts } from "../../../core/map/archive-facts.ts";
import type { RememberedRoles } from "../../../core/map/set-roles.ts";
import { openFileSource } from "../../../electron/services/file-source.ts";
import { openedGround } from "../../../electron/services/sheets/opened-ground.ts";

const path = fileURLToPath(new URL("../../../sample-maps/uldermoor.pmtiles", import.meta.url));

async function setByHand(): Promise<RememberedRoles> {
  const source = await openFileSource(path);
  const { id, fingerprint, layers } = await archiveFacts(source);
  await source.close();
  const stream = layers.find(({ name }) => name === "stream");
  if (!stream) throw new Error("the demo map has no layer of streams");
  // Streams as paths, and nothing else.
  return {
    id,
    fingerprint,
    layers: layers.map(({ name }) => name),
    roles: { path: { layer: stream.name } },
  };
}

test("a map's sheets are drawn in the roles set by hand, and anew when these change", async () => {
  const remembered = await setByHand();
  const plain = await openedGround({ path, terrainPath: null, roles: [] });
  expect(Object.keys(plain.ground.map.info.roles).length).toBeGreaterThan(5);

  const set = await openedGround({ path, terrainPath: null, roles: [remembered] });
  expect(set.ground.map.info.roles).toEqual({ path: { layer: "stream" } });
  expect(set.notices).toEqual([]);
  expect(await openedGround({ path, terrainPath: null, roles: [remembered] })).toBe(set);

  const back = await openedGround({ path, terrainPath: null, roles: [] });
  expect(back.ground.map.info.roles).toEqual(plain.ground.map.info.roles);
});

test("roles set for another make of the map come with a notice", async () => {
  const remembered = { ...(await setByHand()), fingerprint: "another" };
  const { ground, notices } = await openedGround({ path, terrainPath: null, roles: [remembered] });
  expect(ground.map.info.roles).toEqual({ path: { layer: "stream" } });
  expect(notices).toHaveLength(1);
});
