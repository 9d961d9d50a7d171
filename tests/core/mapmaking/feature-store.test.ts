/** Features waiting in a spool: what comes back is what went in, and each block of tiles has all that may lie in it. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { featureStore, featuresOf } from "../../../core/mapmaking/feature-store.ts";
import { memorySpool } from "../../../core/mapmaking/spool.ts";
import type { TileFeature } from "../../../core/mapmaking/tile-feature.ts";

const ZOOMS = { min: 8, max: 14 };
const TOP = 10;
/** Units of the highest zoom across a tile of a zoom. */
const across = (zoom: number): number => 4096 * 2 ** (ZOOMS.max - zoom);
const FIRST = 500 * across(TOP);

const line = (coords: number[], more: Partial<TileFeature> = {}): TileFeature => ({
  role: "path",
  type: 2,
  parts: [Int32Array.from(coords)],
  attributes: { class: "path" },
  minZoom: 11,
  ...more,
});
/** Copies, as a feature read is good until the next. */
const plain = (features: Iterable<TileFeature>): unknown[] =>
  Array.from(features, (one) => ({ ...one, parts: one.parts.map((part) => Array.from(part)) }));

describe("features in a store", () => {
  const attribute = fc.oneof(fc.string(), fc.double({ noNaN: true, noDefaultInfinity: true }), fc.boolean());
  const feature = fc.record({
    role: fc.constantFrom("path", "stream", "peak", "water", "filled" as const),
    type: fc.constantFrom(1, 2, 3 as const),
    parts: fc.array(
      fc
        .array(fc.integer({ min: 0, max: across(TOP) - 1 }), { minLength: 2, maxLength: 9 })
        .map((list) => Int32Array.from(list.length % 2 ? list.slice(1) : list, (v) => FIRST + v)),
      { minLength: 1, maxLength: 4 },
    ),
    attributes: fc.dictionary(
      fc.string(),
      attribute.map((v) => (Object.is(v, -0) ? 0 : v)),
    ),
    minZoom: fc.integer({ min: 0, max: 14 }),
  }) as fc.Arbitrary<TileFeature>;

  it("come back as they were, in their order", () => {
    fc.assert(
      fc.property(fc.array(feature, { minLength: 1, maxLength: 20 }), (features) => {
        const spool = memorySpool();
        const store = featureStore(TOP, ZOOMS, spool);
        for (const one of features) store.add(one);
        const block = store.blocks("top").get("500/500")!;
        expect(plain(featuresOf(block.chunks, spool))).toEqual(plain(features));
      }),
      { numRuns: 100 },
    );
  });

  it("lie in every block that they, or 64 units more at its lowest zoom, reach into", () => {
    const spool = memorySpool();
    const store = featureStore(TOP, ZOOMS, spool);
    const edge = 501 * across(TOP);
    const over = 64 * 2 ** (ZOOMS.max - TOP);
    const y = FIRST + 30_000;
    store.add(line([edge - 30_000, y, edge - over, y]));
    store.add(line([edge - 30_000, y, edge - over - 40, y]));
    store.add(line([edge + over + 40, y, edge + 5 * over, y], { minZoom: 9 }));
    const blocks = store.blocks("top");
    const counts = [...blocks].map(([key, { chunks }]) => [key, plain(featuresOf(chunks, spool)).length]);
    expect(Object.fromEntries(counts)).toEqual({ "500/500": 2, "501/500": 2 });
    // Of the low zooms only what is drawn there.
    const low = [...store.blocks("low")].map(([key, { chunks }]) => [
      key,
      plain(featuresOf(chunks, spool)).length,
    ]);
    expect(low).toEqual([["125/125", 1]]);
  });

  it("that are large and lie in many blocks are kept once", () => {
    let appended = 0;
    const spool = memorySpool();
    const store = featureStore(TOP, ZOOMS, {
      ...spool,
      append: (bytes) => {
        appended += bytes.length;
        return spool.append(bytes);
      },
    });
    const long = Array.from({ length: 2000 }, (_, i) => [FIRST + 2000 * i, FIRST + (i % 7)]).flat();
    store.add(line(long));
    const blocks = store.blocks("top");
    expect(blocks.size).toBeGreaterThan(50);
    expect(appended).toBeLessThan(1.2 * 4 * long.length);
    for (const { chunks } of blocks.values())
      expect(plain(featuresOf(chunks, spool))).toEqual(plain([line(long)]));
  });

  it("are told by layer, and those that terrain could give are known", () => {
    const spool = memorySpool();
    const store = featureStore(TOP, ZOOMS, spool);
    store.add(
      line([FIRST, FIRST, FIRST + 9, FIRST], { role: "stream", attributes: { name: "Fern Beck", width: 2 } }),
    );
    store.add(line([FIRST, FIRST, FIRST + 9, FIRST]));
    expect(store.layers.get("stream")).toEqual({ count: 1, fields: { name: "String", width: "Number" } });
    expect(plain(featuresOf(store.known(), spool))).toHaveLength(1);
  });
});
