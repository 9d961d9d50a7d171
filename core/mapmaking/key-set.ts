/**
 * Sets of whole numbers that many workers look into: sorted, in memory that threads share where there is such, so that a
 * million numbers lie there once and are not copied into every piece of work.
 */
export type KeySet = Float64Array;

/** The distinct numbers of several lists. */
export function keySet(lists: readonly Float64Array[]): KeySet {
  const total = lists.reduce((sum, list) => sum + list.length, 0);
  const bytes = total * Float64Array.BYTES_PER_ELEMENT;
  const all = new Float64Array(
    typeof SharedArrayBuffer === "undefined" ? new ArrayBuffer(bytes) : new SharedArrayBuffer(bytes),
  );
  let at = 0;
  for (const list of lists) {
    all.set(list, at);
    at += list.length;
  }
  all.sort();
  let distinct = 0;
  for (let i = 0; i < total; i++) if (i === 0 || all[i] !== all[i - 1]) all[distinct++] = all[i]!;
  return all.subarray(0, distinct);
}

/** Where a number stands in the set, −1 when it does not. */
export function keyIndex(keys: KeySet, key: number): number {
  let [low, high] = [0, keys.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (keys[middle]! < key) low = middle + 1;
    else high = middle;
  }
  return keys[low] === key ? low : -1;
}

export const hasKey = (keys: KeySet, key: number): boolean => keyIndex(keys, key) >= 0;
