/** Bytes written one after the other into an array that grows. */
export class GrowingBytes {
  length = 0;
  private bytes = new Uint8Array(64);

  /** Protocol Buffers' variable-length form of a whole number of 32 bits, taken as unsigned. */
  varint(value: number): void {
    if (this.length + 5 > this.bytes.length) this.grow(5);
    const { bytes } = this;
    let rest = value >>> 0;
    while (rest > 0x7f) {
      bytes[this.length++] = (rest & 0x7f) | 0x80;
      rest >>>= 7;
    }
    bytes[this.length++] = rest;
  }

  append(more: Uint8Array): void {
    if (this.length + more.length > this.bytes.length) this.grow(more.length);
    this.bytes.set(more, this.length);
    this.length += more.length;
  }

  clear(): void {
    this.length = 0;
  }

  /** What is written so far; good until the next write. */
  view(): Uint8Array {
    return this.bytes.subarray(0, this.length);
  }

  private grow(by: number): void {
    const larger = new Uint8Array(Math.max(this.bytes.length * 2, this.length + by));
    larger.set(this.view());
    this.bytes = larger;
  }
}
