/** What reaches the thread that draws pages: the roles set by hand for this very map, whatever suffix its id has in the case. */
import { expect, test } from "vitest";
import type { RememberedRoles } from "../../../core/map/set-roles.ts";
import { USUAL_WISH } from "../../../core/sheet/sheet-job.ts";
import { emptyWalk } from "../../../core/walk/walk.ts";
import { formatWalk } from "../../../core/walk/walk-file.ts";
import { USUAL_SETTINGS } from "../../../electron/contract.ts";
import type { FoundMap } from "../../../electron/services/map-case.ts";
import type { Press } from "../../../electron/services/sheets/press.ts";
import { SheetOrders } from "../../../electron/services/sheets/sheet-orders.ts";

const rolesOf = (id: string): RememberedRoles => ({ id, fingerprint: "f", layers: ["a"], roles: {} });

test.each(["moor", "moor~2"])("roles set for “moor” go with the map “%s”", async (mapId) => {
  const asked: unknown[] = [];
  const press = {
    ask: async (_call: string, args: readonly unknown[]) => {
      asked.push(args[1]);
      return { title: "", pages: [], notes: [] };
    },
    close: async () => undefined,
  } as unknown as Press;
  const orders = new SheetOrders({
    press,
    settings: () => USUAL_SETTINGS,
    findMap: async (id) =>
      ({ path: "moor.pmtiles", terrainPath: null, entry: { id, sizeBytes: 1 } }) as unknown as FoundMap,
    mapRoles: () => [rolesOf("moor"), rolesOf("moorland")],
  });
  await orders.start({ walk: formatWalk(emptyWalk("2026-06-01")), mapId, wish: USUAL_WISH });
  expect(asked).toMatchObject([{ map: { path: "moor.pmtiles", roles: [rolesOf("moor")] } }]);
});
