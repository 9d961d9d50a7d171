/** Bytes of a PDF's content as they are written: short numbers, quickly, into one growing buffer. */
export class PdfBytes {
  #buffer = Buffer.allocUnsafe(1 << 16);
  #length = 0;

  get length(): number {
    return this.#length;
  }

  #room(bytes: number): void {
    if (this.#length + bytes <= this.#buffer.length) return;
    const larger = Buffer.allocUnsafe(Math.max(this.#buffer.length * 2, this.#length + bytes));
    this.#buffer.copy(larger, 0, 0, this.#length);
    this.#buffer = larger;
  }

  /** Characters up to U+00FF, a byte each. */
  text(text: string): this {
    this.#room(text.length);
    this.#length += this.#buffer.write(text, this.#length, "latin1");
    return this;
  }

  bytes(bytes: Uint8Array): this {
    this.#room(bytes.length);
    this.#buffer.set(bytes, this.#length);
    this.#length += bytes.length;
    return this;
  }

  /** A whole number and the space after it. */
  int(value: number): this {
    this.#room(20);
    const buffer = this.#buffer;
    let left = value;
    if (left < 0) {
      buffer[this.#length++] = 0x2d;
      left = -left;
    }
    let digits = 1;
    for (let power = 10; left >= power; power *= 10) digits++;
    let at = this.#length + digits;
    this.#length = at + 1;
    buffer[at] = 0x20;
    do {
      const tenth = Math.floor(left / 10);
      buffer[--at] = 0x30 + left - tenth * 10;
      left = tenth;
    } while (left > 0);
    return this;
  }

  /** What was written; good until more is written. */
  done(): Uint8Array {
    return this.#buffer.subarray(0, this.#length);
  }
}

/** A number without needless digits. */
export const short = (value: number, decimals: number): string => {
  const text = value.toFixed(decimals);
  if (!text.includes(".")) return text;
  const trimmed = text.replace(/\.?0+$/, "");
  return trimmed === "-0" ? "0" : trimmed;
};
