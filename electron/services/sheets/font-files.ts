/**
 * The bundled fonts of the pages. Each face is a chain of families, tried in order for every letter; each family comes in files by
 * script, as its package cuts them.
 */
import type { Face } from "../../../core/sheet/page/page.ts";

export interface FontFile {
  /** Folder of the package below @fontsource and start of its file names. */
  readonly folder: string;
  readonly script: string;
  readonly weight: 400 | 700;
  readonly style: "normal" | "italic";
  /** As style sheets name the family. */
  readonly family: string;
  /** Characters this file is asked for, as in the package's own style sheet. */
  readonly range: string;
}

const LATIN =
  "U+0000-00FF,U+0131,U+0152-0153,U+02BB-02BC,U+02C6,U+02DA,U+02DC,U+0304,U+0308,U+0329,U+2000-206F,U+20AC,U+2122,U+2191,U+2193,U+2212,U+2215,U+FEFF,U+FFFD";
const LATIN_EXT =
  "U+0100-02BA,U+02BD-02C5,U+02C7-02CC,U+02CE-02D7,U+02DD-02FF,U+0304,U+0308,U+0329,U+1D00-1DBF,U+1E00-1E9F,U+1EF2-1EFF,U+2020,U+20A0-20AB,U+20AD-20C0,U+2113,U+2C60-2C7F,U+A720-A7FF";
const VIETNAMESE =
  "U+0102-0103,U+0110-0111,U+0128-0129,U+0168-0169,U+01A0-01A1,U+01AF-01B0,U+0300-0301,U+0303-0304,U+0308-0309,U+0323,U+0329,U+1EA0-1EF9,U+20AB";
const GREEK = "U+0370-0377,U+037A-037F,U+0384-038A,U+038C,U+038E-03A1,U+03A3-03FF";
const GREEK_EXT = "U+1F00-1FFF";
const CYRILLIC = "U+0301,U+0400-045F,U+0490-0491,U+04B0-04B1,U+2116";
const CYRILLIC_EXT = "U+0460-052F,U+1C80-1C8A,U+20B4,U+2DE0-2DFF,U+A640-A69F,U+FE2E-FE2F";
const DEVANAGARI =
  "U+0900-097F,U+1CD0-1CF9,U+200C-200D,U+20A8,U+20B9,U+20F0,U+25CC,U+A830-A839,U+A8E0-A8FF,U+11B00-11B09";
/** Arrows, operators and plain shapes, which the others lack: the box for a letter nobody has is among them. */
const SIGNS = "U+2190-21FF,U+2200-22FF,U+25A0-25FF,U+2610";

type Scripts = Readonly<Record<string, string>>;
const READING: Scripts = { latin: LATIN, "latin-ext": LATIN_EXT };
const NAMES: Scripts = {
  ...READING,
  vietnamese: VIETNAMESE,
  greek: GREEK,
  "greek-ext": GREEK_EXT,
  cyrillic: CYRILLIC,
  "cyrillic-ext": CYRILLIC_EXT,
};
const OTHERS: Scripts = { ...NAMES, devanagari: DEVANAGARI };

const files = (
  folder: string,
  family: string,
  scripts: Scripts,
  weight: 400 | 700,
  style: "normal" | "italic" = "normal",
): FontFile[] =>
  Object.entries(scripts).map(([script, range]) => ({ folder, family, script, weight, style, range }));

const atkinson = (weight: 400 | 700): FontFile[] =>
  files("atkinson-hyperlegible-next", "Atkinson Hyperlegible Next", READING, weight);
const alegreya = (weight: 400 | 700, style?: "italic"): FontFile[] =>
  files("alegreya-sans", "Alegreya Sans", NAMES, weight, style);
const rest = (weight: 400 | 700, style?: "italic"): FontFile[] => [
  ...files("noto-sans", "Noto Sans", OTHERS, weight, style),
  ...files("noto-sans-math", "Noto Sans Math", { latin: SIGNS }, 400),
];

export const FACE_FILES: Readonly<Record<Face, readonly FontFile[]>> = {
  text: [...atkinson(400), ...rest(400)],
  textBold: [...atkinson(700), ...rest(700)],
  name: [...alegreya(400), ...rest(400)],
  nameItalic: [...alegreya(400, "italic"), ...rest(400, "italic")],
  nameBold: [...alegreya(700), ...rest(700)],
};

/** Path below the folder of packages. */
export const fontPath = (
  { folder, script, weight, style }: FontFile,
  format: "woff" | "woff2" = "woff",
): string => `@fontsource/${folder}/files/${folder}-${script}-${weight}-${style}.${format}`;

/** Whether a file is asked for a character. */
export function rangeTest(range: string): (codePoint: number) => boolean {
  const spans = range.split(",").map((span) => {
    const [from, to] = span.slice(2).split("-");
    return [Number.parseInt(from as string, 16), Number.parseInt(to ?? (from as string), 16)] as const;
  });
  return (codePoint) => spans.some(([from, to]) => codePoint >= from && codePoint <= to);
}
