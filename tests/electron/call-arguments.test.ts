import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { HOST_METHODS, type HostApi, type HostMethod } from "../../electron/contract.ts";
import { USUAL_WISH } from "../../core/sheet/sheet-job.ts";
import { answer } from "../../electron/services/answer.ts";
import { bareName, suggestName } from "../../electron/services/file-name.ts";

const METHODS = Object.keys(HOST_METHODS) as HostMethod[];

/** A host that only notes what reaches it. */
function recorder(): { api: HostApi; calls: { method: string; args: unknown[] }[] } {
  const calls: { method: string; args: unknown[] }[] = [];
  const api = Object.fromEntries(
    METHODS.map((method) => [method, async (...args: unknown[]) => void calls.push({ method, args })]),
  ) as unknown as HostApi;
  return { api, calls };
}

describe("calls over the bridge", () => {
  it("lets through what the contract allows, left-out arguments too", async () => {
    const { api, calls } = recorder();
    const good: [HostMethod, unknown[]][] = [
      ["info", []],
      ["addMap", []],
      ["addMap", [null]],
      ["addMap", [{ name: "a.pmtiles" }]],
      ["openWalk", []],
      ["openWalk", [{ name: "a" }]],
      ["openWalk", [{ upload: { name: "a", text: "{}" } }]],
      ["saveWalk", [{ id: "1", name: "a" }, "text"]],
      ["saveWalk", [{ id: "1", name: "a" }, "text", { evenIfChanged: true }]],
      ["saveWalkAs", ["text", "a"]],
      ["saveWalkAs", ["text", "a", { name: "b", replace: true }]],
      ["exportText", ["csv", "a", "b"]],
      ["startSheets", [{ walk: "{}", mapId: null, wish: USUAL_WISH }]],
      ["sheetsState", ["key"]],
      ["cancelSheets", ["key"]],
      ["sheetsPage", ["key", 0]],
      ["saveSheets", ["key", "pdf", "a"]],
      ["saveSheets", ["key", "svg", "a", { name: "b", replace: true }]],
      ["printSheets", ["key"]],
      ["setSettings", [{}]],
      ["setSettings", [{ theme: "night", lastMapId: null }]],
    ];
    for (const [method, args] of good) {
      const envelope = await answer(api, method, args);
      expect(envelope, `${method} ${JSON.stringify(args)}`).toMatchObject({ ok: true });
    }
    expect(calls.map(({ method }) => method)).toEqual(good.map(([method]) => method));
    // JSON has no undefined; null for what was left out must not reach the services.
    expect(calls.flatMap(({ args }) => args).filter((arg) => arg === null)).toEqual([]);
  });

  it("answers anything whatever with an envelope, and lets no unknown member through", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.oneof(fc.constantFrom(...METHODS), fc.string()),
        fc.jsonValue(),
        async (method, args) => {
          const { api, calls } = recorder();
          const envelope = await answer(api, method, args);
          if (envelope.ok) expect(METHODS).toContain(method);
          else expect(["bad-argument", "not-allowed"]).toContain(envelope.fault.code);
          expect(calls.length).toBe(envelope.ok ? 1 : 0);
          JSON.stringify(envelope);
        },
      ),
      { numRuns: 2000, seed: 20260516 },
    );
  });
});

describe("file names", () => {
  it("always come out of a title fit to be used", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 400 }), (title) => {
        const name = suggestName(title);
        expect(name).not.toBe("");
        expect(bareName(name)).toBe(name);
      }),
      { numRuns: 5000, seed: 20260516 },
    );
  });

  it.each([
    ["Weekend in the hills", "Weekend in the hills"],
    ["A/B: north\\south?", "A B north south"],
    ["../../etc/passwd", "etc passwd"],
    ["...", "walk"],
    ["con", "walk"],
    ["Прогулка 山歩き", "Прогулка 山歩き"],
  ])("of the title %j is %j", (title, name) => {
    expect(suggestName(title)).toBe(name);
  });
});
