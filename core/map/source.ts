/** Bytes of one archive, wherever they lie: a file, a range request, a buffer in a test. */
export interface ByteSource {
  /** Tells sources apart in caches and in messages: a file name, not a path. */
  readonly key: string;
  /**
   * `length` bytes from `offset`, fewer only where the source ends.
   * @throws Fault "no-file" when the source is gone
   */
  read(offset: number, length: number, signal?: AbortSignal): Promise<Uint8Array>;
}

/** A source over bytes already in memory. */
export function bytesSource(key: string, bytes: Uint8Array): ByteSource {
  return { key, read: async (offset, length) => bytes.subarray(offset, offset + length) };
}
