import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { rangeSource } from "../../../renderer/archive/range-source.ts";

const BYTES = Uint8Array.from({ length: 1000 }, (_, i) => i % 251);
let server: Server;
let base = "";

// A server after RFC 9110, section 14; "/whole" is one that knows no ranges, as section 14.2 allows.
beforeAll(async () => {
  server = createServer((request, response) => {
    const range = /^bytes=(\d+)-(\d+)$/.exec(request.headers.range ?? "");
    if (request.url === "/gone") return void response.writeHead(404).end();
    if (request.url === "/whole" || !range) return void response.writeHead(200).end(BYTES);
    const from = Number(range[1]);
    if (from >= BYTES.length) return void response.writeHead(416).end();
    response.writeHead(206).end(BYTES.subarray(from, Number(range[2]) + 1));
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});
afterAll(() => void server.close());

describe("bytes by range", () => {
  test.each(["/map", "/whole"])("are those asked for (%s)", async (path) => {
    expect([...(await rangeSource(base + path, "m").read(100, 5))]).toEqual([...BYTES.subarray(100, 105)]);
  });

  test("are fewer at the end and none behind it", async () => {
    const source = rangeSource(`${base}/map`, "m");
    expect((await source.read(990, 100)).length).toBe(10);
    expect((await source.read(2000, 10)).length).toBe(0);
  });

  test("a file that is gone is said to be, by its name", async () => {
    await expect(rangeSource(`${base}/gone`, "moor.pmtiles").read(0, 10)).rejects.toMatchObject({
      code: "no-file",
      where: "moor.pmtiles",
    });
  });

  test("a host that does not answer is a fault, a cancelled read is cancelled", async () => {
    await expect(rangeSource("http://127.0.0.1:1/x", "m").read(0, 10)).rejects.toMatchObject({
      code: "no-file",
    });
    const controller = new AbortController();
    controller.abort();
    await expect(rangeSource(`${base}/map`, "m").read(0, 10, controller.signal)).rejects.toMatchObject({
      code: "cancelled",
    });
  });
});
