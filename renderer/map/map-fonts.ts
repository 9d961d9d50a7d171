/**
 * Fonts for names on the map, drawn by the browser from bundled files: no glyph server, no font of the system.
 * The code point ranges are those of the files' own packages (unicode.json of @fontsource).
 */
import type { FontFacesSpecification } from "maplibre-gl";
import regularLatin from "@fontsource/alegreya-sans/files/alegreya-sans-latin-500-normal.woff2?url";
import regularExt from "@fontsource/alegreya-sans/files/alegreya-sans-latin-ext-500-normal.woff2?url";
import regularCyrillic from "@fontsource/alegreya-sans/files/alegreya-sans-cyrillic-500-normal.woff2?url";
import regularGreek from "@fontsource/alegreya-sans/files/alegreya-sans-greek-500-normal.woff2?url";
import boldLatin from "@fontsource/alegreya-sans/files/alegreya-sans-latin-700-normal.woff2?url";
import boldExt from "@fontsource/alegreya-sans/files/alegreya-sans-latin-ext-700-normal.woff2?url";
import italicLatin from "@fontsource/alegreya-sans/files/alegreya-sans-latin-500-italic.woff2?url";
import italicExt from "@fontsource/alegreya-sans/files/alegreya-sans-latin-ext-500-italic.woff2?url";
import italicCyrillic from "@fontsource/alegreya-sans/files/alegreya-sans-cyrillic-500-italic.woff2?url";
import italicGreek from "@fontsource/alegreya-sans/files/alegreya-sans-greek-500-italic.woff2?url";
import notoLatin from "@fontsource/noto-sans/files/noto-sans-latin-400-normal.woff2?url";
import notoExt from "@fontsource/noto-sans/files/noto-sans-latin-ext-400-normal.woff2?url";
import notoCyrillic from "@fontsource/noto-sans/files/noto-sans-cyrillic-400-normal.woff2?url";
import notoGreek from "@fontsource/noto-sans/files/noto-sans-greek-400-normal.woff2?url";
import notoDevanagari from "@fontsource/noto-sans/files/noto-sans-devanagari-400-normal.woff2?url";

const LATIN = [
  "U+0000-00FF",
  "U+0131",
  "U+0152-0153",
  "U+02BB-02BC",
  "U+02C6",
  "U+02DA",
  "U+02DC",
  "U+2000-206F",
  "U+20AC",
  "U+2122",
  "U+2191",
  "U+2193",
  "U+2212",
];
const LATIN_EXT = ["U+0100-0130", "U+0132-0151", "U+0154-02BA", "U+1E00-1E9F", "U+1EF2-1EFF"];
const CYRILLIC = ["U+0301", "U+0400-045F", "U+0490-0491", "U+04B0-04B1", "U+2116"];
const GREEK = ["U+0370-03FF"];
const DEVANAGARI = ["U+0900-097F", "U+1CD0-1CF9", "U+A8E0-A8FF"];

/** Absolute, because MapLibre resolves nothing against the page. */
const face = (url: string, range: readonly string[]) => ({
  url: new URL(url, document.baseURI).href,
  "unicode-range": [...range],
});

export const mapFonts = (): FontFacesSpecification => ({
  Name: [
    face(regularLatin, LATIN),
    face(regularExt, LATIN_EXT),
    face(regularCyrillic, CYRILLIC),
    face(regularGreek, GREEK),
  ],
  "Name Bold": [face(boldLatin, LATIN), face(boldExt, LATIN_EXT)],
  "Name Italic": [
    face(italicLatin, LATIN),
    face(italicExt, LATIN_EXT),
    face(italicCyrillic, CYRILLIC),
    face(italicGreek, GREEK),
  ],
  Other: [
    face(notoLatin, LATIN),
    face(notoExt, LATIN_EXT),
    face(notoCyrillic, CYRILLIC),
    face(notoGreek, GREEK),
    face(notoDevanagari, DEVANAGARI),
  ],
});
