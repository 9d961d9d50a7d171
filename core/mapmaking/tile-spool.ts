/** Where finished tiles wait until the archive's directory is known. */
export interface TileSpool {
  /** @returns where the bytes lie, counted from the first ever appended */
  append(bytes: Uint8Array): number;
  /** Bytes appended before, possibly several appends' in a row; good until the next call. */
  read(offset: number, length: number): Uint8Array;
}

/** Room to begin with; doubled when full. */
const FIRST_BYTES = 1 << 20;

/** A spool in memory, for hosts without a disk and for small maps. */
export function memorySpool(): TileSpool {
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
  };
}
