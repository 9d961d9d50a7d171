/** Where bytes of long work wait until they are asked for: finished tiles, features, positions of nodes. */
export interface Spool {
  /** @returns where the bytes lie, counted from the first ever appended */
  append(bytes: Uint8Array): number;
  /** Bytes appended before, possibly several appends' in a row; the array may be the spool's own and is not to be written to. */
  read(offset: number, length: number): Uint8Array;
  /** Makes all that was appended readable for whoever else has the file. */
  flush(): void;
}

/** What reads from a spool, in whichever thread. */
export type SpoolReader = Pick<Spool, "read">;

/** Room to begin with; doubled when full. */
const FIRST_BYTES = 1 << 16;

/** A spool in memory, for hosts without a disk and for small maps. */
export function memorySpool(): Spool {
  let bytes = new Uint8Array(FIRST_BYTES);
  let length = 0;
  return {
    append(more) {
      if (length + more.length > bytes.length) {
        const larger = new Uint8Array(Math.max(bytes.length * 2, length + more.length));
        larger.set(bytes.subarray(0, length));
        bytes = larger;
      }
      bytes.set(more, length);
      length += more.length;
      return length - more.length;
    },
    read: (offset, size) => bytes.subarray(offset, offset + size),
    flush: () => {},
  };
}
