/** Walks the operators of a page's content (ISO 32000-1, annex A) and keeps what they draw. */
import { type ReadFont, readFont } from "./pdf-fonts.ts";
import {
  type PdfDict,
  type PdfFile,
  PdfLexer,
  PdfName,
  PdfStream,
  PdfString,
  type PdfValue,
  PdfWord,
} from "./pdf-objects.ts";
import type { PdfBox, PdfPath, PdfText } from "./pdf-reader.ts";

/** a b c d e f: x' = a·x + c·y + e, y' = b·x + d·y + f. */
type Matrix = readonly [number, number, number, number, number, number];
/** First `m`, then `n`. */
const times = (m: Matrix, n: Matrix): Matrix => [
  m[0] * n[0] + m[1] * n[2],
  m[0] * n[1] + m[1] * n[3],
  m[2] * n[0] + m[3] * n[2],
  m[2] * n[1] + m[3] * n[3],
  m[4] * n[0] + m[5] * n[2] + n[4],
  m[4] * n[1] + m[5] * n[3] + n[5],
];
const lengthOf = (m: Matrix): number => Math.sqrt(Math.abs(m[0] * m[3] - m[1] * m[2]));

interface State {
  ctm: Matrix;
  fill: string;
  ink: string;
  fillOpacity: number;
  inkOpacity: number;
  width: number;
  dash: readonly number[];
  clip: PdfBox | null;
  font: ReadFont | null;
  size: number;
  mode: number;
  charSpace: number;
  wordSpace: number;
  stretch: number;
  leading: number;
  rise: number;
}
type Open = { -readonly [K in keyof PdfText]: PdfText[K] };

const hex = (...rgb: number[]): string =>
  `#${rgb
    .map((c) =>
      Math.round(Math.min(1, Math.max(0, c)) * 255)
        .toString(16)
        .padStart(2, "0"),
    )
    .join("")}`;
const colour = (n: number[]): string => {
  if (n.length === 1) return hex(n[0] as number, n[0] as number, n[0] as number);
  if (n.length === 3) return hex(...n);
  const [c, m, y, k] = n as [number, number, number, number];
  return hex((1 - c) * (1 - k), (1 - m) * (1 - k), (1 - y) * (1 - k));
};
const meet = (a: PdfBox | null, b: PdfBox): PdfBox => {
  if (!a) return b;
  const [x, y] = [Math.max(a.x, b.x), Math.max(a.y, b.y)];
  return {
    x,
    y,
    width: Math.max(0, Math.min(a.x + a.width, b.x + b.width) - x),
    height: Math.max(0, Math.min(a.y + a.height, b.y + b.height) - y),
  };
};

export class PageReader {
  readonly paths: PdfPath[] = [];
  readonly texts: PdfText[] = [];
  readonly fonts: ReadFont[] = [];
  readonly #file: PdfFile;
  readonly #fontOf = new Map<PdfDict, ReadFont>();
  #state: State;
  readonly #kept: State[] = [];
  readonly #groups: string[] = [];
  readonly #spoken: (() => void)[] = [];
  #parts: number[][] = [];
  #closed: boolean[] = [];
  #at: [number, number] = [0, 0];
  #clipNext = false;
  #text: Matrix = [1, 0, 0, 1, 0, 0];
  #line: Matrix = [1, 0, 0, 1, 0, 0];
  /** Text shown just before, which the next continues if nothing moved the pen. */
  #open: Open | null = null;

  constructor(file: PdfFile, ctm: Matrix) {
    this.#file = file;
    this.#state = {
      ctm,
      fill: "#000000",
      ink: "#000000",
      fillOpacity: 1,
      inkOpacity: 1,
      width: 1,
      dash: [],
      clip: null,
      font: null,
      size: 0,
      mode: 0,
      charSpace: 0,
      wordSpace: 0,
      stretch: 1,
      leading: 0,
      rise: 0,
    };
  }

  read(content: string, resources: PdfDict): void {
    const lexer = new PdfLexer(content);
    let operands: PdfValue[] = [];
    while (!lexer.done) {
      const value = lexer.value();
      if (value instanceof PdfWord) {
        this.#operator(value.word, operands, resources);
        operands = [];
      } else operands.push(value);
    }
    if (operands.length) throw new Error("Operands without an operator at the end of a content stream.");
  }

  #operator(op: string, operands: readonly PdfValue[], resources: PdfDict): void {
    const n = operands.filter((v): v is number => typeof v === "number");
    const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0] = n;
    const s = this.#state;
    switch (op) {
      case "q":
        this.#kept.push({ ...s });
        break;
      case "Q": {
        const back = this.#kept.pop();
        if (!back) throw new Error("Q without q.");
        this.#state = back;
        break;
      }
      case "cm":
        s.ctm = times([a, b, c, d, e, f], s.ctm);
        break;
      case "w":
        s.width = a;
        break;
      case "d":
        s.dash = operands[0] as number[];
        break;
      case "gs": {
        const gs = this.#file.dict(this.#resource(resources, "ExtGState", operands[0]));
        s.fillOpacity = (this.#file.get(gs.get("ca")) as number | null) ?? s.fillOpacity;
        s.width = (this.#file.get(gs.get("LW")) as number | null) ?? s.width;
        s.inkOpacity = (this.#file.get(gs.get("CA")) as number | null) ?? s.inkOpacity;
        break;
      }
      case "g":
      case "rg":
      case "k":
      case "sc":
      case "scn":
        s.fill = colour(n);
        break;
      case "G":
      case "RG":
      case "K":
      case "SC":
      case "SCN":
        s.ink = colour(n);
        break;
      case "m":
        this.#parts.push([]);
        this.#closed.push(false);
        this.#add(a, b);
        break;
      case "l":
        this.#add(a, b);
        break;
      case "c":
        this.#curve(a, b, c, d, e, f);
        break;
      case "v":
        this.#curve(...this.#at, a, b, c, d);
        break;
      case "y":
        this.#curve(a, b, c, d, c, d);
        break;
      case "re":
        this.#parts.push([]);
        this.#closed.push(true);
        for (const [x, y] of [
          [a, b],
          [a + c, b],
          [a + c, b + d],
          [a, b + d],
        ] as const)
          this.#add(x, y);
        break;
      case "h":
        this.#closed[this.#closed.length - 1] = true;
        break;
      case "W":
      case "W*":
        this.#clipNext = true;
        break;
      case "n":
      case "S":
      case "s":
      case "f":
      case "F":
      case "f*":
      case "B":
      case "B*":
      case "b":
      case "b*":
        this.#paint(op);
        break;
      case "BMC":
      case "BDC":
        this.#groups.push((operands[0] as PdfName).name);
        this.#spoken.push(this.#speaks(operands[1]));
        break;
      case "EMC":
        if (this.#groups.pop() === undefined) throw new Error("EMC without BMC.");
        this.#spoken.pop()?.();
        break;
      case "Do":
        this.#form(this.#resource(resources, "XObject", operands[0]), resources);
        break;
      default:
        this.#textOperator(op, operands, n, resources);
    }
  }

  #textOperator(op: string, operands: readonly PdfValue[], n: readonly number[], resources: PdfDict): void {
    const s = this.#state;
    const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0] = n;
    const move = (x: number, y: number): void => {
      this.#line = times([1, 0, 0, 1, x, y], this.#line);
      this.#text = this.#line;
      this.#open = null;
    };
    switch (op) {
      case "BT":
        this.#text = this.#line = [1, 0, 0, 1, 0, 0];
        this.#open = null;
        break;
      case "Tf": {
        const dict = this.#file.dict(this.#resource(resources, "Font", operands[0]));
        const font = this.#fontOf.get(dict) ?? readFont(this.#file, dict);
        if (!this.#fontOf.has(dict)) this.fonts.push(font);
        this.#fontOf.set(dict, font);
        Object.assign(s, { font, size: a });
        break;
      }
      case "Tm":
        this.#text = this.#line = [a, b, c, d, e, f];
        this.#open = null;
        break;
      case "Td":
        move(a, b);
        break;
      case "TD":
        s.leading = -b;
        move(a, b);
        break;
      case "T*":
        move(0, -s.leading);
        break;
      case "Tc":
        s.charSpace = a;
        break;
      case "Tw":
        s.wordSpace = a;
        break;
      case "Tz":
        s.stretch = a / 100;
        break;
      case "TL":
        s.leading = a;
        break;
      case "Ts":
        s.rise = a;
        break;
      case "Tr":
        s.mode = a;
        this.#open = null;
        break;
      case "Tj":
        this.#show([operands[0] as PdfValue]);
        break;
      case "TJ":
        this.#show(operands[0] as PdfValue[]);
        break;
      // What changes nothing that is kept here.
      case "ET":
      case "J":
      case "j":
      case "M":
      case "i":
      case "ri":
      case "cs":
      case "CS":
      case "MP":
      case "DP":
        break;
      default:
        throw new Error(`An operator these tests do not read: ${op}`);
    }
  }

  /** What replaces the text drawn until the matching end, where the file says what is read there. */
  #speaks(properties: PdfValue | undefined): () => void {
    const actual = properties instanceof Map ? properties.get("ActualText") : null;
    const from = this.texts.length;
    return () => {
      const text = this.texts[from];
      if (!text || !(actual instanceof PdfString) || actual.bytes === "") return;
      this.texts.splice(from, this.texts.length, {
        ...text,
        text: Buffer.from(actual.bytes.slice(2), "latin1").swap16().toString("utf16le"),
        widthMm: this.texts.slice(from).reduce((sum, { widthMm }) => sum + widthMm, 0),
      });
      this.#open = null;
    };
  }

  #resource(resources: PdfDict, kind: string, name: PdfValue | undefined): PdfValue {
    const found = this.#file.dict(resources.get(kind)).get((name as PdfName).name);
    if (found === undefined) throw new Error(`The page's resources lack ${kind} ${(name as PdfName).name}.`);
    return this.#file.get(found);
  }

  #form(form: PdfValue, resources: PdfDict): void {
    if (!(form instanceof PdfStream) || (form.dict.get("Subtype") as PdfName).name !== "Form") return;
    const kept = { ...this.#state };
    const matrix = form.dict.has("Matrix") ? this.#file.numbers(form.dict.get("Matrix")) : [1, 0, 0, 1, 0, 0];
    this.#state.ctm = times(matrix as unknown as Matrix, this.#state.ctm);
    const own = form.dict.has("Resources") ? this.#file.dict(form.dict.get("Resources")) : resources;
    this.read(Buffer.from(this.#file.stream(form)).toString("latin1"), own);
    this.#state = kept;
  }

  #add(x: number, y: number): void {
    const m = this.#state.ctm;
    this.#at = [x, y];
    this.#parts.at(-1)?.push(m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]);
  }

  #curve(x1: number, y1: number, x2: number, y2: number, x3: number, y3: number): void {
    const [x0, y0] = this.#at;
    for (let i = 1; i <= 8; i++) {
      const [t, u] = [i / 8, 1 - i / 8];
      const w = [u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t] as const;
      this.#add(w[0] * x0 + w[1] * x1 + w[2] * x2 + w[3] * x3, w[0] * y0 + w[1] * y1 + w[2] * y2 + w[3] * y3);
    }
  }

  #paint(op: string): void {
    const s = this.#state;
    const parts = this.#parts.map((part) => Float64Array.from(part));
    if (/^[sb]/.test(op)) this.#closed.fill(true, -1);
    const wide = lengthOf(s.ctm);
    if (op !== "n")
      this.paths.push({
        kind: "path",
        parts,
        closed: this.#closed,
        fill: /^[fFbB]/.test(op) ? s.fill : null,
        evenOdd: op.endsWith("*"),
        fillOpacity: s.fillOpacity,
        stroke: /^[SsBb]/.test(op)
          ? {
              ink: s.ink,
              widthMm: s.width * wide,
              dashMm: s.dash.map((d) => d * wide),
              opacity: s.inkOpacity,
            }
          : null,
        clip: s.clip,
        groups: [...this.#groups],
      });
    if (this.#clipNext) {
      const xs = parts.flatMap((part) => Array.from(part.filter((_, i) => i % 2 === 0)));
      const ys = parts.flatMap((part) => Array.from(part.filter((_, i) => i % 2 === 1)));
      const [x, y] = [Math.min(...xs), Math.min(...ys)];
      s.clip = meet(s.clip, { x, y, width: Math.max(...xs) - x, height: Math.max(...ys) - y });
    }
    this.#clipNext = false;
    this.#parts = [];
    this.#closed = [];
  }

  #show(pieces: readonly PdfValue[]): void {
    const s = this.#state;
    const { font } = s;
    if (!font) throw new Error("Text without a font.");
    const start = times(this.#text, s.ctm);
    const along = Math.hypot(start[0], start[1]);
    let [text, run] = ["", 0];
    for (const piece of pieces) {
      if (typeof piece === "number") {
        run -= (piece / 1000) * s.size * s.stretch;
        continue;
      }
      const { bytes } = piece as PdfString;
      for (let i = 0; i < bytes.length; i += font.wide ? 2 : 1) {
        const code = font.wide ? bytes.charCodeAt(i) * 256 + bytes.charCodeAt(i + 1) : bytes.charCodeAt(i);
        text += font.textOf(code);
        const word = !font.wide && code === 32 ? s.wordSpace : 0;
        run += ((font.widthOf(code) / 1000) * s.size + s.charSpace + word) * s.stretch;
      }
    }
    this.#text = times([1, 0, 0, 1, run, 0], this.#text);
    if (s.mode === 3) return;
    if (this.#open) {
      this.#open.text += text;
      this.#open.widthMm += run * along;
      if (!this.#open.fonts.includes(font.name)) this.#open.fonts = [...this.#open.fonts, font.name];
      return;
    }
    const wide = lengthOf(s.ctm);
    this.#open = {
      kind: "text",
      text,
      x: start[4],
      y: start[5],
      widthMm: run * along,
      sizeMm: s.size * Math.hypot(start[2], start[3]),
      turnDeg: (Math.atan2(start[1], start[0]) * 180) / Math.PI,
      fonts: [font.name],
      fill: s.mode % 4 === 1 ? null : s.fill,
      stroke: s.mode % 4 === 1 || s.mode % 4 === 2 ? { ink: s.ink, widthMm: s.width * wide } : null,
      clip: s.clip,
      groups: [...this.#groups],
    };
    this.texts.push(this.#open);
  }
}
