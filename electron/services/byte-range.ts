/** What to answer to a request for part of a file, after RFC 9110 §14. */
export type RangeAnswer =
  | {
      readonly status: 200 | 206;
      readonly start: number;
      readonly length: number;
      readonly headers: Record<string, string>;
    }
  | { readonly status: 416; readonly headers: Record<string, string> };

/**
 * @param range the Range header, if any. A unit other than bytes, several ranges, or anything malformed is ignored and
 * the whole is sent, as RFC 9110 §14.2 allows
 * @param size of the whole, bytes
 */
export function answerRange(range: string | null | undefined, size: number): RangeAnswer {
  const whole: RangeAnswer = {
    status: 200,
    start: 0,
    length: size,
    headers: { "accept-ranges": "bytes", "content-length": String(size) },
  };
  const match = range ? /^bytes=(\d{0,15})-(\d{0,15})$/.exec(range.trim()) : null;
  if (!match || (match[1] === "" && match[2] === "")) return whole;
  const [first, last] = [match[1], match[2]];
  // "-500" is the last 500 bytes.
  const start = first ? Number(first) : Math.max(0, size - Number(last));
  const end = first && last ? Math.min(Number(last), size - 1) : size - 1;
  if (first && last && Number(last) < Number(first)) return whole;
  if (start >= size || end < start) {
    return {
      status: 416,
      headers: { "accept-ranges": "bytes", "content-range": `bytes */${size}`, "content-length": "0" },
    };
  }
  const length = end - start + 1;
  return {
    status: 206,
    start,
    length,
    headers: {
      "accept-ranges": "bytes",
      "content-range": `bytes ${start}-${end}/${size}`,
      "content-length": String(length),
    },
  };
}
