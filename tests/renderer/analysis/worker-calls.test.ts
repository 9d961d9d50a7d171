import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import type { LegSettings } from "../../../core/legs/leg-settings.ts";
import { type Port, workerClient } from "../../../renderer/analysis/worker-client.ts";
import { dispatcher, type Handlers } from "../../../renderer/worker/dispatch.ts";
import type { FromWorker, ToWorker } from "../../../renderer/worker/messages.ts";
import { SI_STYLE, writeFiguresBy } from "../../../core/units/figure-style.ts";
import { formatNumber } from "../../../core/units/format.ts";

/** Both ends joined without a thread; messages are copied as between threads. */
function joined(
  handlers: Partial<Handlers>,
): Port & { breakDown(): void; readonly sent: ToWorker[]; ended: boolean } {
  const listeners: ((event: MessageEvent<FromWorker>) => void)[] = [];
  const errors: (() => void)[] = [];
  const sent: ToWorker[] = [];
  const missing = async (): Promise<never> => {
    throw new Error("not part of this test");
  };
  // Whatever else can be asked is no part of a test.
  const all = new Proxy(handlers as Handlers, {
    get: (own, call) => (Reflect.get(own, call) as unknown) ?? missing,
  });
  const receive = dispatcher(all, (message) => {
    const data = structuredClone(message);
    queueMicrotask(() => {
      for (const listener of listeners) listener({ data } as MessageEvent<FromWorker>);
    });
  });
  return {
    sent,
    ended: false,
    terminate() {
      this.ended = true;
    },
    postMessage(message) {
      const copy = structuredClone(message);
      sent.push(copy);
      queueMicrotask(() => receive(copy));
    },
    addEventListener(type: "message" | "error", listener: (event: MessageEvent<FromWorker>) => void) {
      if (type === "message") listeners.push(listener);
      else errors.push(listener as unknown as () => void);
    },
    breakDown() {
      for (const error of errors) error();
    },
  };
}

describe("calls to the worker", () => {
  test("answers go to the one who asked, in whatever order they come", async () => {
    const release: ((height: number) => void)[] = [];
    const client = workerClient(() =>
      joined({ elevationAt: () => new Promise((resolve) => release.push(resolve)) }),
    );
    const first = client.ask("elevationAt", [[1, 2]]);
    const second = client.ask("elevationAt", [[3, 4]]);
    await new Promise((resolve) => setTimeout(resolve));
    release[1]?.(200);
    release[0]?.(100);
    expect(await Promise.all([first, second])).toEqual([100, 200]);
  });

  test("a fault crosses with its code, place and remedy", async () => {
    const client = workerClient(() =>
      joined({
        openMap: async () => {
          throw new Fault("bad-archive", "It is cut short.", "moor.pmtiles", "Copy it again.");
        },
      }),
    );
    const failure = await client
      .ask("openMap", [{ url: "x", key: "moor.pmtiles" }, null, null])
      .catch((thrown: unknown) => Fault.from(thrown));
    expect((failure as Fault).toRecord()).toEqual({
      code: "bad-archive",
      what: "It is cut short.",
      where: "moor.pmtiles",
      remedy: "Copy it again.",
    });
  });

  test("what is thrown unforeseen comes back as a fault, not as silence", async () => {
    const client = workerClient(() =>
      joined({
        closeMap: async () => {
          throw new TypeError("x is undefined");
        },
      }),
    );
    await expect(client.ask("closeMap", [])).rejects.toMatchObject({
      code: "internal",
      what: "x is undefined",
    });
  });

  test("cancelling reaches the call in the worker and fails the question as cancelled", async () => {
    let stopped = false;
    const client = workerClient(() =>
      joined({
        figures: (signal) =>
          new Promise((_, reject) => {
            signal.addEventListener("abort", () => {
              stopped = true;
              reject(new Error("stopped"));
            });
          }),
      }),
    );
    const controller = new AbortController();
    const asked = client.ask("figures", [[], {} as LegSettings], controller.signal);
    await new Promise((resolve) => setTimeout(resolve));
    controller.abort();
    await expect(asked).rejects.toMatchObject({ code: "cancelled" });
    expect(stopped).toBe(true);
  });

  test("a question given up before it is asked never reaches the worker", async () => {
    const port = joined({});
    const controller = new AbortController();
    controller.abort();
    await expect(
      workerClient(() => port).ask("elevationAt", [[1, 2]], controller.signal),
    ).rejects.toMatchObject({
      code: "cancelled",
    });
    expect(port.sent).toEqual([]);
  });

  describe("when the worker breaks", () => {
    const silent = (): Promise<never> => new Promise(() => {});

    test("another is begun with the map that was open, and what waited is asked again", async () => {
      const first = joined({ openMap: async () => ({}) as never, elevationAt: silent });
      const second = joined({ openMap: async () => ({}) as never, elevationAt: async () => 512 });
      const ports = [first, second];
      let again = 0;
      const client = workerClient(() => ports.shift()!, { again: () => again++ });
      await client.ask("openMap", [{ url: "x", key: "moor.pmtiles" }, null, null]);
      const asked = client.ask("elevationAt", [[1, 2]]);
      first.breakDown();
      expect(await asked).toBe(512);
      expect(again).toBe(1);
      expect(first.ended).toBe(true);
      expect(second.sent.map((message) => "call" in message && message.call)).toEqual([
        "openMap",
        "elevationAt",
      ]);
    });

    test("the next is told at once how figures are written", async () => {
      const first = joined({ elevationAt: silent });
      const second = joined({ elevationAt: async () => 512 });
      const ports = [first, second];
      const client = workerClient(() => ports.shift()!);
      const asked = client.ask("elevationAt", [[1, 2]]);
      client.writeFiguresOf("de-DE");
      first.breakDown();
      expect(await asked).toBe(512);
      expect(second.sent[0]).toEqual({ figuresOf: "de-DE" });
      expect(formatNumber(0.5, 1)).toBe("0,5");
      writeFiguresBy(() => SI_STYLE);
    });

    test("a question that ends every worker fails, with what to do", async () => {
      const ports: ReturnType<typeof joined>[] = [];
      const client = workerClient(() => ports[ports.push(joined({ elevationAt: silent })) - 1]!);
      const asked = client.ask("elevationAt", [[1, 2]]);
      ports[0]!.breakDown();
      ports[1]!.breakDown();
      await expect(asked).rejects.toMatchObject({
        code: "internal",
        remedy: expect.stringMatching(/Save the walk/),
      });
    });

    test("one that was ended without a word is missed after a while, a busy one is not", async () => {
      let wake = (_height: number): void => {};
      const busy = joined({ elevationAt: () => new Promise((resolve) => (wake = resolve)) });
      const alive = workerClient(() => busy, { silenceMs: 50 });
      const slow = alive.ask("elevationAt", [[1, 2]]);
      await new Promise((resolve) => setTimeout(resolve, 200));
      wake(7);
      expect(await slow).toBe(7);
      expect(busy.ended).toBe(false);

      const dead = { ...joined({}), postMessage: () => undefined };
      const ports = [dead, joined({ elevationAt: async () => 512 })];
      const client = workerClient(() => ports.shift()!, { silenceMs: 50 });
      expect(await client.ask("elevationAt", [[1, 2]])).toBe(512);
    });
  });

  test("figures keep their typed arrays across the boundary", async () => {
    const profile = {
      from: null,
      distanceM: Float64Array.of(0, 10),
      elevationM: Float64Array.of(1, NaN),
      errorM: null,
      blind: [],
    };
    const client = workerClient(() => joined({ figures: async () => ({ legs: [{ profile }] }) as never }));
    const answer = await client.ask("figures", [[], {} as LegSettings]);
    expect(answer.legs[0]?.profile.elevationM).toBeInstanceOf(Float64Array);
    expect(answer.legs[0]?.profile.elevationM[1]).toBeNaN();
  });
});
