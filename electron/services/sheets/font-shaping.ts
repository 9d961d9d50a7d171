/**
 * Letters of a text, placed: which font file each comes from, how far it advances, how it is moved. Ruler and PDF both set text by
 * this, so that what was measured is what is set. Plain letters are set one by one with kerning between two of one file, which is
 * the whole of what the bundled fonts do for them once ligatures are off; marks and Indic scripts go through the full shaping.
 */
import type { Font } from "fontkit";
import { tidyText } from "../../../core/sheet/page/tidy-text.ts";
import type { Kerning } from "./kern-table.ts";
import { rangeTest, type FontFile } from "./font-files.ts";

/** Lengths are thousandths of the font size. */
export interface SetGlyph {
  readonly id: number;
  readonly advance: number;
  readonly dx: number;
  readonly dy: number;
  /** What is read here; "" for a glyph that only belongs to the one before. */
  readonly text: string;
}

export interface FontSource {
  readonly file: FontFile;
  /** Read and parsed on first use. */
  readonly font: Font;
  /** Between two of its glyphs, where pairs are all there is to it; else null. */
  readonly kerning: Kerning | null;
}

export interface SetRun {
  readonly source: FontSource;
  readonly glyphs: readonly SetGlyph[];
}

interface Letter {
  readonly source: FontSource;
  readonly id: number;
  readonly advance: number;
  readonly text: string;
  readonly missing: boolean;
}

/** What no font need have: marks that only steer shaping, and what joins or varies a picture character. */
const UNSEEN = /^[\p{Cf}\p{Variation_Selector}\p{Emoji_Modifier}]$/u;
const COMPLEX = /[\p{M}\p{Script=Devanagari}\u200c\u200d]/u;
const BOX = 0x25a1;
const FEATURES = { liga: false, clig: false, dlig: false };
const MAX_KEPT = 20_000;

/** Sets text of one face from its chain of files. */
export class FaceShaper {
  readonly #chain: readonly { readonly source: FontSource; readonly asked: (codePoint: number) => boolean }[];
  readonly #letters = new Map<number, Letter>();
  readonly #kerns = new Map<FontSource, Map<number, number>>();
  readonly #widths = new Map<string, number>();
  readonly #shaped = new Map<string, readonly SetGlyph[]>();

  constructor(sources: readonly FontSource[]) {
    this.#chain = sources.map((source) => ({ source, asked: rangeTest(source.file.range) }));
  }

  /** Advance of a text, thousandths of the font size. */
  width(text: string): number {
    const known = this.#widths.get(text);
    if (known !== undefined) return known;
    let width = 0;
    if (COMPLEX.test(text))
      for (const run of this.set(text)) for (const { advance } of run.glyphs) width += advance;
    else {
      let before: Letter | null = null;
      for (const char of tidyText(text)) {
        const letter = this.#letter(char.codePointAt(0) as number, char);
        if (!letter) continue;
        width += letter.advance + (before ? this.#kern(before, letter) : 0);
        before = letter;
      }
    }
    if (this.#widths.size >= MAX_KEPT) this.#widths.clear();
    this.#widths.set(text, width);
    return width;
  }

  /** The text in runs of one file each. */
  set(text: string): SetRun[] {
    const runs: { source: FontSource; letters: Letter[] }[] = [];
    for (const char of tidyText(text)) {
      const codePoint = char.codePointAt(0) as number;
      let last = runs.at(-1);
      // A mark stays with its letter wherever that file has it.
      const stays =
        last && /\p{M}|\u200c|\u200d/u.test(char) && last.source.font.hasGlyphForCodePoint(codePoint);
      if (!stays && UNSEEN.test(char)) continue;
      const letter: Letter | null =
        stays && last ? letterOf(last.source, codePoint, char) : this.#letter(codePoint, char);
      if (!letter) continue;
      if (last?.source !== letter.source) runs.push((last = { source: letter.source, letters: [] }));
      (last as { letters: Letter[] }).letters.push(letter);
    }
    return runs.map(({ source, letters }) => ({ source, glyphs: this.#glyphs(source, letters) }));
  }

  missing(text: string): string[] {
    const all = new Set<string>();
    for (const char of tidyText(text))
      if (this.#letter(char.codePointAt(0) as number, char)?.missing) all.add(char);
    return [...all];
  }

  #glyphs(source: FontSource, letters: readonly Letter[]): readonly SetGlyph[] {
    const text = letters.map((letter) => letter.text).join("");
    if (COMPLEX.test(text) && !letters.some(({ missing }) => missing)) {
      const known = this.#shaped.get(text);
      if (known) return known;
      const shaped = shape(source.font, text);
      this.#shaped.set(text, shaped);
      return shaped;
    }
    return letters.map((letter, i) => {
      const next = letters[i + 1];
      const kern = next ? this.#kern(letter, next) : 0;
      return { id: letter.id, advance: letter.advance + kern, dx: 0, dy: 0, text: letter.text };
    });
  }

  #letter(codePoint: number, char: string): Letter | null {
    const known = this.#letters.get(codePoint);
    if (known) return known;
    const source = this.#sourceOf(codePoint);
    if (!source && UNSEEN.test(char)) return null;
    const letter = source ? letterOf(source, codePoint, char) : this.#box(char);
    this.#letters.set(codePoint, letter);
    return letter;
  }

  #sourceOf(codePoint: number): FontSource | undefined {
    return this.#chain.find(
      ({ source, asked }) => asked(codePoint) && source.font.hasGlyphForCodePoint(codePoint),
    )?.source;
  }

  #box(char: string): Letter {
    const source = this.#sourceOf(BOX);
    if (!source) throw new Error("No bundled font has the empty box.");
    return { ...letterOf(source, BOX, char), missing: true };
  }

  #kern(a: Letter, b: Letter): number {
    if (a.source !== b.source || a.missing || b.missing) return 0;
    let kerns = this.#kerns.get(a.source);
    if (!kerns) this.#kerns.set(a.source, (kerns = new Map()));
    const key = a.id * 65_536 + b.id;
    let kern = kerns.get(key);
    if (kern === undefined) kerns.set(key, (kern = kernBetween(a, b)));
    return kern;
  }
}

function kernBetween(a: Letter, b: Letter): number {
  const { font, kerning } = a.source;
  if (kerning) return thousandths(font, kerning(a.id, b.id));
  const run = font.layout(a.text + b.text, FEATURES);
  return run.glyphs.length === 2 ? thousandths(font, run.advanceWidth) - a.advance - b.advance : 0;
}

const thousandths = (font: Font, units: number): number => (units * 1000) / font.unitsPerEm;

function letterOf(source: FontSource, codePoint: number, text: string): Letter {
  const glyph = source.font.glyphForCodePoint(codePoint);
  return {
    source,
    id: glyph.id,
    advance: thousandths(source.font, glyph.advanceWidth),
    text,
    missing: false,
  };
}

/** Full shaping of a run of one script: the letters a glyph stands for are told by the shaper. */
function shape(font: Font, text: string): SetGlyph[] {
  const { glyphs, positions } = font.layout(text, FEATURES);
  return glyphs.map((glyph, i) => {
    const at = positions[i] as (typeof positions)[number];
    return {
      id: glyph.id,
      advance: thousandths(font, at.xAdvance),
      dx: thousandths(font, at.xOffset),
      dy: thousandths(font, at.yOffset),
      text: String.fromCodePoint(...glyph.codePoints),
    };
  });
}
