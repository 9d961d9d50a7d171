import { describe, expect, it, vi } from "vitest";
import { TileCache } from "../../../core/map/tile-cache.ts";

const one = (x: number, y = 0) => ({ z: 14, x0: x, y0: y, x1: x, y1: y });
const load = () => vi.fn(async (x: number, y: number) => ({ bytes: 100, at: [x, y] }));

describe("a cache of tiles", () => {
  it("stays under its limit, whatever is asked of it, but for what was asked last", async () => {
    const read = load();
    const cache = new TileCache(1000, read);
    for (let x = 0; x < 10_000; x++) {
      await cache.prepare(one(x));
      expect(cache.bytes).toBeLessThanOrEqual(1000);
    }
    expect(read).toHaveBeenCalledTimes(10_000);
  });

  it("drops the tile used longest ago", async () => {
    const cache = new TileCache(1000, load());
    for (let x = 0; x < 10; x++) await cache.prepare(one(x));
    expect(cache.get(0, 0)?.at).toEqual([0, 0]);
    await cache.prepare(one(10));
    expect(cache.get(0, 0)).toBeDefined();
    expect(cache.get(1, 0)).toBeUndefined();
  });

  it("keeps a range together though it alone is over the limit", async () => {
    const cache = new TileCache(1000, load());
    const range = { z: 14, x0: 0, y0: 0, x1: 9, y1: 9 };
    await cache.prepare(range);
    expect(cache.hasAll(range)).toBe(true);
    // Four ranges later it is no longer wanted.
    for (let x = 100; x < 104; x++) await cache.prepare(one(x));
    expect(cache.hasAll(range)).toBe(false);
    expect(cache.bytes).toBeLessThanOrEqual(1000);
  });

  it("stops reading when cancelled", async () => {
    const controller = new AbortController();
    const read = vi.fn(async () => {
      controller.abort();
      return { bytes: 1 };
    });
    const cache = new TileCache(1000, read);
    await expect(
      cache.prepare({ z: 14, x0: 0, y0: 0, x1: 29, y1: 29 }, controller.signal),
    ).rejects.toMatchObject({ code: "cancelled" });
    expect(read.mock.calls.length).toBeLessThanOrEqual(6);
  });
});
