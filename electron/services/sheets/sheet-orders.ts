import { createHash, randomUUID } from "node:crypto";
import { Fault } from "../../../core/fault.ts";
import { adviceSettingsOf, legChoicesOf } from "../../../core/legs/advice/aid-settings.ts";
import type { RememberedRoles } from "../../../core/map/set-roles.ts";
import type { LengthUnit } from "../../../core/units/format.ts";
import { parseWalk } from "../../../core/walk/walk-file.ts";
import type { ReadySheets, Settings, SheetOrder, SheetsState } from "../../contract.ts";
import type { FoundMap } from "../map-case.ts";
import { KEPT_SETS } from "./kept-sets.ts";
import type { Press } from "./press.ts";
import type { PressOrder } from "./press-messages.ts";

/** How long a question after progress waits for an end. */
const PATIENCE_MS = 400;

interface Order {
  readonly asked: string;
  readonly stop: AbortController;
  readonly made: Promise<ReadySheets>;
  done: number;
  all: number;
  ready: ReadySheets | null;
}

export interface OrderDeps {
  readonly press: Press;
  readonly settings: () => Settings;
  readonly findMap: (id: string) => Promise<FoundMap>;
  /** Roles set by hand, of all maps. */
  readonly mapRoles: () => readonly RememberedRoles[];
}

/** Pages being made and made for the window: the newest few, each by its key. */
export class SheetOrders {
  readonly #orders = new Map<string, Order>();

  constructor(private readonly deps: OrderDeps) {}

  /** The same walk, map, settings and wish are drawn once. */
  async start(order: SheetOrder): Promise<string> {
    const { work, mapBytes } = await this.#workOf(order);
    const asked = createHash("sha256")
      .update(JSON.stringify([work, mapBytes]))
      .digest("hex");
    for (const [key, { asked: before, stop }] of this.#orders)
      if (before === asked && !stop.signal.aborted) return key;
    const key = randomUUID();
    const stop = new AbortController();
    const made = this.deps.press.ask("make", [key, work], {
      signal: stop.signal,
      told: (done, all) => Object.assign(entry, { done, all }),
    });
    const entry: Order = { asked, stop, made, done: 0, all: 1, ready: null };
    this.#orders.set(key, entry);
    made.then(
      (ready) => (entry.ready = ready),
      // What failed may go better when asked again; whoever waits is told.
      () => stop.abort(),
    );
    while (this.#orders.size > KEPT_SETS) this.cancel(this.#orders.keys().next().value as string);
    return key;
  }

  async state(key: string): Promise<SheetsState> {
    const order = this.#of(key);
    await Promise.race([order.made, new Promise((resolve) => setTimeout(resolve, PATIENCE_MS))]);
    return { done: order.done, all: order.all, ready: order.ready };
  }

  /** Gives up what is being made; what is ready stays. */
  cancel(key: string): void {
    const order = this.#orders.get(key);
    if (!order) return;
    if (!order.ready || this.#orders.size > KEPT_SETS) this.#orders.delete(key);
    if (!order.ready) order.stop.abort();
  }

  /** @throws Fault "no-file" for a key there is not (any more), and what making them met */
  async ready(key: string): Promise<ReadySheets> {
    return await this.#of(key).made;
  }

  #of(key: string): Order {
    const order = this.#orders.get(key);
    if (!order) throw new Fault("no-file", "These pages are no longer kept.", null, "Have them made again.");
    return order;
  }

  async #workOf({
    walk: text,
    mapId,
    wish,
    worksheet = null,
    course = null,
  }: SheetOrder): Promise<{ readonly work: PressOrder; readonly mapBytes: number }> {
    const { walk } = parseWalk(text, "the walk", new Date().toISOString().slice(0, 10));
    const { compass, lengths, lengthUnit, aids } = this.deps.settings();
    const found = mapId === null ? null : await this.deps.findMap(mapId);
    const unit: LengthUnit = lengths === null ? lengthUnit : `${lengthUnit}:${lengths}`;
    const job = {
      walk,
      wish,
      compass,
      lengthUnit: unit,
      choices: legChoicesOf(aids),
      advice: adviceSettingsOf(aids),
    };
    return {
      work: {
        job,
        worksheet,
        course,
        map: found && {
          path: found.path,
          terrainPath: found.terrainPath,
          // In the case the second map of an id has "~2" after it.
          roles: this.deps
            .mapRoles()
            .filter(({ id }) => found.entry.id === id || found.entry.id.startsWith(`${id}~`)),
        },
      },
      mapBytes: found?.entry.sizeBytes ?? 0,
    };
  }
}
