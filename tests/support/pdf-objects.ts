/**
 * The objects of a PDF file as plain values, read by its cross-reference table (ISO 32000-1, 7.3 and 7.5.4). For tests: it reads what
 * our own writer and Chromium's write, not object streams, encryption or damaged files.
 */
import { unzlibSync } from "fflate";

export class PdfName {
  constructor(readonly name: string) {}
}
export class PdfRef {
  constructor(readonly number: number) {}
}
/** A string of a PDF, a byte a character. */
export class PdfString {
  constructor(readonly bytes: string) {}
}
/** An operator of a content stream, or a keyword. */
export class PdfWord {
  constructor(readonly word: string) {}
}
export type PdfDict = Map<string, PdfValue>;
export class PdfStream {
  constructor(
    readonly dict: PdfDict,
    readonly raw: Uint8Array,
  ) {}
}
export type PdfValue =
  | number
  | boolean
  | null
  | PdfName
  | PdfRef
  | PdfString
  | PdfWord
  | PdfDict
  | PdfStream
  | readonly PdfValue[];

const SPACE = /[\0\t\n\f\r ]/;
const REGULAR = /[^\0\t\n\f\r ()<>[\]{}/%]/;
const ESCAPES: Readonly<Record<string, string>> = { n: "\n", r: "\r", t: "\t", b: "\b", f: "\f" };

/** Reads values one after the other from bytes told as a string, a byte a character. */
export class PdfLexer {
  constructor(
    readonly text: string,
    public at = 0,
  ) {}

  skipSpace(): void {
    for (;;) {
      while (this.at < this.text.length && SPACE.test(this.text[this.at] as string)) this.at++;
      if (this.text[this.at] !== "%") return;
      while (this.at < this.text.length && !/[\r\n]/.test(this.text[this.at] as string)) this.at++;
    }
  }

  get done(): boolean {
    this.skipSpace();
    return this.at >= this.text.length;
  }

  /** The next value; within a file `7 0 R` is a reference, in a content stream there are none. */
  value(refs = false): PdfValue {
    this.skipSpace();
    const c = this.text[this.at];
    if (c === "/") return this.#name();
    if (c === "(") return this.#string();
    if (c === "[") return this.#array(refs);
    if (c === "<") return this.text[this.at + 1] === "<" ? this.#dict(refs) : this.#hex();
    const word = this.#regular();
    if (word === "") throw new Error(`A PDF cannot have “${c}” at byte ${this.at}.`);
    if (/^[+-]?(\d+\.?\d*|\.\d+)$/.test(word)) {
      const ref = refs && /^\d+$/.test(word) && /^\s+\d+\s+R\b/.exec(this.text.slice(this.at, this.at + 20));
      if (ref) {
        this.at += ref[0].length;
        return new PdfRef(Number(word));
      }
      return Number(word);
    }
    if (word === "true" || word === "false") return word === "true";
    return word === "null" ? null : new PdfWord(word);
  }

  #regular(): string {
    const from = this.at;
    while (this.at < this.text.length && REGULAR.test(this.text[this.at] as string)) this.at++;
    return this.text.slice(from, this.at);
  }

  #name(): PdfName {
    this.at++;
    return new PdfName(
      this.#regular().replace(/#([0-9a-fA-F]{2})/g, (_, hex: string) =>
        String.fromCharCode(Number.parseInt(hex, 16)),
      ),
    );
  }

  #string(): PdfString {
    let [out, depth] = ["", 1];
    for (this.at++; ; this.at++) {
      const c = this.text[this.at];
      if (c === undefined) throw new Error("A string of the PDF does not end.");
      if (c === "\\") {
        const octal = /^[0-7]{1,3}/.exec(this.text.slice(this.at + 1, this.at + 4))?.[0];
        const next = this.text[this.at + 1] as string;
        out += octal
          ? String.fromCharCode(Number.parseInt(octal, 8))
          : next === "\n"
            ? ""
            : (ESCAPES[next] ?? next);
        this.at += octal?.length ?? 1;
        continue;
      }
      if (c === "(") depth++;
      if (c === ")" && --depth === 0) break;
      out += c;
    }
    this.at++;
    return new PdfString(out);
  }

  #hex(): PdfString {
    const end = this.text.indexOf(">", this.at);
    const digits = this.text.slice(this.at + 1, end).replace(/\s/g, "");
    this.at = end + 1;
    return new PdfString(
      (digits.match(/..?/g) ?? [])
        .map((d) => String.fromCharCode(Number.parseInt(d.padEnd(2, "0"), 16)))
        .join(""),
    );
  }

  #array(refs: boolean): PdfValue[] {
    const all: PdfValue[] = [];
    this.at++;
    for (this.skipSpace(); this.text[this.at] !== "]"; this.skipSpace()) all.push(this.value(refs));
    this.at++;
    return all;
  }

  #dict(refs: boolean): PdfDict {
    const dict: PdfDict = new Map();
    this.at += 2;
    for (this.skipSpace(); this.text[this.at] !== ">"; this.skipSpace())
      dict.set(this.#name().name, this.value(refs));
    this.at += 2;
    return dict;
  }
}

/** A PDF's objects, read as they are asked for. */
export class PdfFile {
  readonly #text: string;
  readonly #offsets = new Map<number, number>();
  readonly #known = new Map<number, PdfValue>();
  readonly trailer: PdfDict;

  constructor(readonly bytes: Uint8Array) {
    this.#text = Buffer.from(bytes).toString("latin1");
    if (!this.#text.startsWith("%PDF-1.")) throw new Error("This is not a PDF.");
    const start = /startxref\s+(\d+)\s+%%EOF\s*$/.exec(this.#text)?.[1];
    const lexer = new PdfLexer(this.#text, Number(start));
    if ((lexer.value() as PdfWord).word !== "xref")
      throw new Error("The PDF has no cross-reference table where it says.");
    for (let first = lexer.value(); typeof first === "number"; first = lexer.value()) {
      const count = lexer.value() as number;
      for (let i = 0; i < count; i++) {
        const [offset, , use] = [lexer.value(), lexer.value(), lexer.value()];
        if ((use as PdfWord).word === "n") this.#offsets.set(first + i, offset as number);
      }
    }
    this.trailer = lexer.value(true) as PdfDict;
  }

  /** What a value stands for: references followed. */
  get(value: PdfValue | undefined): PdfValue {
    if (!(value instanceof PdfRef)) return value ?? null;
    const known = this.#known.get(value.number);
    if (known !== undefined) return known;
    const read = this.#object(value.number);
    this.#known.set(value.number, read);
    return read;
  }

  dict(value: PdfValue | undefined): PdfDict {
    const got = this.get(value);
    if (got instanceof PdfStream) return got.dict;
    if (!(got instanceof Map)) throw new Error("The PDF lacks a dictionary.");
    return got;
  }

  numbers(value: PdfValue | undefined): number[] {
    return (this.get(value) as readonly PdfValue[]).map((v) => this.get(v) as number);
  }

  /** A stream's bytes, unpacked. */
  stream(value: PdfValue | undefined): Uint8Array {
    const got = this.get(value);
    if (!(got instanceof PdfStream)) throw new Error("The PDF lacks a stream.");
    const filter = this.get(got.dict.get("Filter"));
    if (filter === null) return got.raw;
    const one = Array.isArray(filter) ? (filter as PdfValue[])[0] : filter;
    if (!(one instanceof PdfName) || one.name !== "FlateDecode")
      throw new Error("A filter these tests do not read.");
    return unzlibSync(got.raw);
  }

  #object(number: number): PdfValue {
    const offset = this.#offsets.get(number);
    if (offset === undefined) return null;
    const lexer = new PdfLexer(this.#text, offset);
    const [n, , obj] = [lexer.value(), lexer.value(), lexer.value()];
    if (n !== number || (obj as PdfWord).word !== "obj")
      throw new Error(`Object ${number} is not at byte ${offset}.`);
    const value = lexer.value(true);
    const stream = value instanceof Map && /^\s*stream\r?\n/.exec(this.#text.slice(lexer.at, lexer.at + 20));
    if (!stream) return value;
    const from = lexer.at + stream[0].length;
    const raw = this.bytes.subarray(from, from + (this.get(value.get("Length")) as number));
    return new PdfStream(value, raw);
  }
}
