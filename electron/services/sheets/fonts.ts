/** The bundled fonts, read from their packages, and the ruler over them. */
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { create, type Font } from "fontkit";
import { Fault } from "../../../core/fault.ts";
import type { Face } from "../../../core/sheet/page/page.ts";
import type { TextRuler } from "../../../core/sheet/page/text-ruler.ts";
import { findApp } from "../app-folder.ts";
import { FACE_FILES, type FontFile, fontPath } from "./font-files.ts";
import { type Kerning, kernTable } from "./kern-table.ts";
import { unpackWoff } from "./woff.ts";
import { FaceShaper, type FontSource, type SetRun } from "./font-shaping.ts";

export interface SheetFonts {
  readonly ruler: TextRuler;
  /** A line of text as placed letters, in runs of one font file each. */
  set(text: string, face: Face): readonly SetRun[];
  /** A file's bytes, WOFF 2, for those who embed it whole. */
  webFont(file: FontFile): Uint8Array;
}

let loaded: Promise<SheetFonts> | null = null;

/**
 * The fonts, the same for every caller of a thread. Files are opened when a letter first asks for them.
 * @throws Fault "no-file" where the app's fonts are not installed
 */
export function loadSheetFonts(): Promise<SheetFonts> {
  loaded ??= Promise.resolve().then(() => openFonts(join(findApp().folder, "node_modules")));
  loaded.catch(() => {
    loaded = null;
  });
  return loaded;
}

function openFonts(packages: string): SheetFonts {
  const sources = new Map<string, FontSource>();
  const sourceOf = (file: FontFile): FontSource => {
    const path = join(packages, fontPath(file));
    let source = sources.get(path);
    if (!source) {
      if (!existsSync(path)) throw fontMissing(path);
      source = lazySource(file, path);
      sources.set(path, source);
    }
    return source;
  };
  const shapers = Object.fromEntries(
    Object.entries(FACE_FILES).map(([face, files]) => [face, new FaceShaper(files.map(sourceOf))]),
  ) as Record<Face, FaceShaper>;
  const first = (face: Face): Font => sourceOf(FACE_FILES[face][0] as FontFile).font;
  return {
    ruler: {
      widthMm: (text, face, sizeMm) => (shapers[face].width(text) * sizeMm) / 1000,
      capHeightMm: (face, sizeMm) => (first(face).capHeight / first(face).unitsPerEm) * sizeMm,
      descentMm: (face, sizeMm) => (-first(face).descent / first(face).unitsPerEm) * sizeMm,
      missing: (text, face) => shapers[face].missing(text),
    },
    set: (text, face) => shapers[face].set(text),
    webFont: (file) => readFileSync(join(packages, fontPath(file, "woff2"))),
  };
}

function lazySource(file: FontFile, path: string): FontSource {
  let bytes: Buffer | null = null;
  let font: Font | null = null;
  let kerning: Kerning | null | undefined;
  const plain = (): Buffer => (bytes ??= unpackWoff(readFileSync(path)));
  return {
    file,
    get font() {
      font ??= create(plain()) as Font;
      return font;
    },
    get kerning() {
      if (kerning === undefined) kerning = kernTable(plain());
      return kerning;
    },
  };
}

const fontMissing = (path: string): Fault =>
  new Fault("no-file", "A font of the app is missing.", path, "Install the app's packages again.");
