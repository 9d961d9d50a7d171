import { afterEach, expect, test, vi } from "vitest";
import { httpBridge } from "../../../renderer/host/http-bridge.ts";

afterEach(() => void vi.unstubAllGlobals());

test("a call is a POST of its arguments, and the envelope comes back as it is", async () => {
  const fetched = vi.fn(
    async (_url: string, _init: RequestInit) => new Response('{"ok":true,"value":["a.walk.geojson"]}'),
  );
  vi.stubGlobal("fetch", fetched);
  expect(await httpBridge().call("listWalkFiles")).toEqual({ ok: true, value: ["a.walk.geojson"] });
  await httpBridge().call("openMap", "moor");
  const [url, init] = fetched.mock.calls[1] ?? [];
  expect(url).toBe("api/openMap");
  expect(init).toMatchObject({
    method: "POST",
    headers: { "content-type": "application/json" },
    body: '{"args":["moor"]}',
  });
});

test("a host that is gone or talks nonsense gives a fault with a remedy, never an exception", async () => {
  vi.stubGlobal("fetch", async () => {
    throw new TypeError("Failed to fetch");
  });
  expect(await httpBridge().call("info")).toMatchObject({
    ok: false,
    fault: { code: "unavailable", remedy: expect.any(String) },
  });
  vi.stubGlobal("fetch", async () => new Response("<html>", { status: 502 }));
  expect(await httpBridge().call("info")).toMatchObject({ ok: false, fault: { code: "unavailable" } });
});
