/**
 * Kerning between two glyphs, read straight from a font's GPOS table (OpenType 1.9, "GPOS", lookup type 2): asking the shaper for
 * every pair of a map's names would take longer than drawing them.
 */

/** Units of the font to add between two glyphs. */
export type Kerning = (first: number, second: number) => number;

const PAIR = 2;
const EXTENSION = 9;
/** Bit of a value record: movement along the line. */
const ADVANCE = 4;

/**
 * @param font the plain font file
 * @returns null where the font kerns by other means than pairs, which only the shaper can follow; kerning of 0 where it has none
 */
export function kernTable(font: Uint8Array): Kerning | null {
  const view = new DataView(font.buffer, font.byteOffset, font.byteLength);
  const gpos = tableAt(view, "GPOS");
  if (gpos === null) return () => 0;
  const tables: (readonly PairTable[])[] = [];
  for (const lookup of kernLookups(view, gpos)) {
    const found = pairTables(view, lookup);
    if (!found) return null;
    tables.push(found);
  }
  return (first, second) => {
    let sum = 0;
    for (const lookup of tables)
      for (const table of lookup) {
        const kern = table(first, second);
        if (kern === null) continue;
        sum += kern;
        break;
      }
    return sum;
  };
}

/** Null where the subtable does not apply to the pair, and the next one is asked. */
type PairTable = (first: number, second: number) => number | null;

function tableAt(view: DataView, tag: string): number | null {
  for (let i = 0, at = 12; i < view.getUint16(4); i++, at += 16)
    if (tagAt(view, at) === tag) return view.getUint32(at + 8);
  return null;
}

const tagAt = (view: DataView, at: number): string =>
  String.fromCharCode(view.getUint8(at), view.getUint8(at + 1), view.getUint8(at + 2), view.getUint8(at + 3));

/** Where the lookups of "kern" lie, in the order they apply. */
function kernLookups(view: DataView, gpos: number): number[] {
  const features = gpos + view.getUint16(gpos + 6);
  const lookups = gpos + view.getUint16(gpos + 8);
  const used = new Set<number>();
  for (let i = 0; i < view.getUint16(features); i++) {
    const record = features + 2 + i * 6;
    if (tagAt(view, record) !== "kern") continue;
    const feature = features + view.getUint16(record + 4);
    for (let k = 0; k < view.getUint16(feature + 2); k++) used.add(view.getUint16(feature + 4 + k * 2));
  }
  return [...used].sort((a, b) => a - b).map((index) => lookups + view.getUint16(lookups + 2 + index * 2));
}

function pairTables(view: DataView, lookup: number): PairTable[] | null {
  const type = view.getUint16(lookup);
  const all: PairTable[] = [];
  for (let i = 0; i < view.getUint16(lookup + 4); i++) {
    let at = lookup + view.getUint16(lookup + 6 + i * 2);
    if (type === EXTENSION && view.getUint16(at + 2) !== PAIR) return null;
    if (type === EXTENSION) at += view.getUint32(at + 4);
    else if (type !== PAIR) return null;
    const [format1, format2] = [view.getUint16(at + 4), view.getUint16(at + 6)];
    // Only the first glyph's advance may change: anything else moves letters, not gaps.
    if ((format1 & ~ADVANCE) !== 0 || format2 !== 0) return null;
    const size = format1 ? 2 : 0;
    all.push(view.getUint16(at) === 1 ? glyphPairs(view, at, size) : classPairs(view, at, size));
  }
  return all;
}

/** Format 1: for each first glyph a list of second ones. */
function glyphPairs(view: DataView, at: number, size: number): PairTable {
  const covered = coverage(view, at + view.getUint16(at + 2));
  return (first, second) => {
    const index = covered.get(first);
    if (index === undefined) return null;
    const set = at + view.getUint16(at + 10 + index * 2);
    for (let i = 0, pair = set + 2; i < view.getUint16(set); i++, pair += 2 + size)
      if (view.getUint16(pair) === second) return size ? view.getInt16(pair + 2) : 0;
    return null;
  };
}

/** Format 2: glyphs in classes. */
function classPairs(view: DataView, at: number, size: number): PairTable {
  const covered = coverage(view, at + view.getUint16(at + 2));
  const firsts = classes(view, at + view.getUint16(at + 8));
  const seconds = classes(view, at + view.getUint16(at + 10));
  const columns = view.getUint16(at + 14);
  return (first, second) => {
    if (!covered.has(first)) return null;
    const cell = (firsts.get(first) ?? 0) * columns + (seconds.get(second) ?? 0);
    return size ? view.getInt16(at + 16 + cell * size) : 0;
  };
}

/** Glyph to its index. */
function coverage(view: DataView, at: number): Map<number, number> {
  const glyphs = new Map<number, number>();
  const count = view.getUint16(at + 2);
  if (view.getUint16(at) === 1) for (let i = 0; i < count; i++) glyphs.set(view.getUint16(at + 4 + i * 2), i);
  else
    for (let i = 0, range = at + 4; i < count; i++, range += 6)
      for (let glyph = view.getUint16(range), k = 0; glyph <= view.getUint16(range + 2); glyph++, k++)
        glyphs.set(glyph, view.getUint16(range + 4) + k);
  return glyphs;
}

/** Glyph to its class; those not named are of class 0. */
function classes(view: DataView, at: number): Map<number, number> {
  const glyphs = new Map<number, number>();
  if (view.getUint16(at) === 1) {
    const first = view.getUint16(at + 2);
    for (let i = 0; i < view.getUint16(at + 4); i++) glyphs.set(first + i, view.getUint16(at + 6 + i * 2));
  } else
    for (let i = 0, range = at + 4; i < view.getUint16(at + 2); i++, range += 6)
      for (let glyph = view.getUint16(range); glyph <= view.getUint16(range + 2); glyph++)
        glyphs.set(glyph, view.getUint16(range + 4));
  return glyphs;
}
