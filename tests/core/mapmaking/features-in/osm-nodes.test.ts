import { describe, expect, it } from "vitest";
import { nodeStore } from "../../../../core/mapmaking/features-in/osm-nodes.ts";
import { memorySpool } from "../../../../core/mapmaking/spool.ts";

/** Numbers 0–1, always the same. Source: Numerical Recipes' linear congruential generator, 32 bits. */
function numbers(): () => number {
  let state = 7;
  return () => (state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0) / 2 ** 32;
}
type Node = readonly [id: number, lon: number, lat: number];
const COUNT = 150_000;
const inOrder = Array.from({ length: COUNT }, (_, i): Node => [
  3 * i + 2 ** 33,
  (i % 3600) / 10 - 180,
  (i % 1700) / 10 - 85,
]);

/** What a plain map says. */
function holdsAll(nodes: readonly Node[], spools: number): void {
  let opened = 0;
  const store = nodeStore(() => {
    opened++;
    return memorySpool();
  });
  const expected = new Map<number, Node>();
  for (const node of nodes) {
    store.add(...node);
    expected.set(node[0], node);
  }
  store.finish();
  expect(opened).toBe(spools);
  expect(store.count()).toBe(nodes.length);
  const out = new Float64Array(4);
  let wrong = 0;
  for (const [id, lon, lat] of expected.values()) {
    if (!store.find(id, out, 2) || Math.abs(out[2]! - lon) > 5e-8 || Math.abs(out[3]! - lat) > 5e-8) wrong++;
    if (store.find(id + 1, out, 0) !== expected.has(id + 1)) wrong++;
  }
  expect(wrong).toBe(0);
}

describe("nodes by their ids", () => {
  it("are found where they come in order", () => holdsAll(inOrder, 1));

  it("are found where they come in any order, over several runs, the later of two with one id", () => {
    const next = numbers();
    const mixed = [...inOrder];
    for (let i = mixed.length - 1; i > 0; i--) {
      const j = Math.floor(next() * (i + 1));
      [mixed[i], mixed[j]] = [mixed[j]!, mixed[i]!];
    }
    const again = mixed.slice(0, 20_000).map(([id, lon, lat]): Node => [id, lon / 2, lat / 2]);
    holdsAll([...mixed, ...again, ...again.slice(0, 5).map(([id]): Node => [id, 1, 2])], 2);
  });

  it("are none where there are none", () => {
    const store = nodeStore(memorySpool);
    store.finish();
    expect(store.find(1, new Float64Array(2), 0)).toBe(false);
    holdsAll([[5, 1, 2]], 1);
  });
});
