/**
 * A page as SVG, in millimetres. Only presentation attributes, so that a window whose rules forbid inline styles shows it; a file for
 * elsewhere may carry its fonts in one block of style. Whatever people typed is escaped, so a label stays a label.
 */
import type { Face, GroupItem, Page, PageItem, Shape, ShapeItem, Stroke, TextItem } from "./page.ts";
import type { TextRuler } from "./text-ruler.ts";
import { tidyText } from "./tidy-text.ts";

export interface SvgOptions {
  /** Rules (`@font-face`) to go with the file. Not for the window, which has the fonts and forbids styles in the page. */
  readonly fontCss?: string;
  /** Tells letters no bundled font has; they are drawn as an empty box, as they will be printed. */
  readonly ruler?: Pick<TextRuler, "missing">;
}

const FALLBACK = "'Noto Sans','Noto Sans Math',sans-serif";
const FACES: Readonly<Record<Face, string>> = {
  text: `font-family="'Atkinson Hyperlegible Next',${FALLBACK}"`,
  textBold: `font-family="'Atkinson Hyperlegible Next',${FALLBACK}" font-weight="700"`,
  name: `font-family="'Alegreya Sans',${FALLBACK}"`,
  nameItalic: `font-family="'Alegreya Sans',${FALLBACK}" font-style="italic"`,
  nameBold: `font-family="'Alegreya Sans',${FALLBACK}" font-weight="700"`,
};
/** Up to so many points a part is told to a thousandth of a millimetre, longer ones to a hundredth. */
const FINE_POINTS = 16;
const PAPER = "#ffffff";
const BOX = "\u25a1";

/** @returns one `<svg>` element, its size in millimetres, without a declaration of XML before it */
export function pageSvg(page: Page, options: SvgOptions = {}): string {
  const { widthMm, heightMm, title } = page;
  const size = `width="${short(widthMm, 4)}mm" height="${short(heightMm, 4)}mm"`;
  const out = [
    `<svg xmlns="http://www.w3.org/2000/svg" ${size} viewBox="0 0 ${short(widthMm, 4)} ${short(heightMm, 4)}"`,
    ` role="img" aria-label="${escaped(title)}" font-kerning="normal" font-variant="none" text-rendering="geometricPrecision">\n`,
  ];
  // The only way out of a style element is its own end tag.
  if (options.fontCss) out.push(`<style>${options.fontCss.replaceAll("<", "\\3c ")}</style>\n`);
  out.push(`<rect width="${short(widthMm, 4)}" height="${short(heightMm, 4)}" fill="${PAPER}"/>\n`);
  const writer = new SvgWriter(out, options.ruler, `p${fingerprint(title)}`);
  for (const item of page.items) writer.item(item);
  out.push("</svg>\n");
  return out.join("");
}

class SvgWriter {
  #clips = 0;

  constructor(
    readonly out: string[],
    readonly ruler: SvgOptions["ruler"],
    /** Before the names of clips: several pages may stand in one document. */
    readonly prefix: string,
  ) {}

  item(item: PageItem): void {
    if (item.kind === "group") this.#group(item);
    else if (item.kind === "shape") this.#shape(item);
    else this.#text(item);
  }

  #group({ name, clip, items }: GroupItem): void {
    let cut = "";
    if (clip) {
      const id = `${this.prefix}-${++this.#clips}`;
      const box = `x="${short(clip.x, 3)}" y="${short(clip.y, 3)}" width="${short(clip.width, 3)}" height="${short(clip.height, 3)}"`;
      this.out.push(`<clipPath id="${id}"><rect ${box}/></clipPath>`);
      cut = ` clip-path="url(#${id})"`;
    }
    this.out.push(`<g data-name="${escaped(name)}"${cut}>\n`);
    for (const item of items) this.item(item);
    this.out.push("</g>\n");
  }

  #shape({ shape, fill, fillOpacity = 1, stroke }: ShapeItem): void {
    const d = pathData(shape);
    if (!d || (!fill && !stroke)) return;
    const filled = fill
      ? `fill="${fill}" fill-rule="evenodd"${fillOpacity < 1 ? ` fill-opacity="${short(fillOpacity, 3)}"` : ""}`
      : 'fill="none"';
    this.out.push(`<path ${filled}${stroke ? strokeAttributes(stroke) : ""} d="${d}"/>\n`);
  }

  #text({ text, at: [x, y], face, sizeMm, ink, anchor = "start", turnDeg = 0, haloMm }: TextItem): void {
    const place = `x="${short(x, 3)}" y="${short(y, 3)}"`;
    const anchored = anchor === "start" ? "" : ` text-anchor="${anchor}"`;
    const turned = turnDeg ? ` transform="rotate(${short(turnDeg, 4)} ${short(x, 3)} ${short(y, 3)})"` : "";
    const halo = haloMm
      ? `${strokeAttributes({ ink: PAPER, widthMm: haloMm * 2, cap: "round", join: "round" })} paint-order="stroke"`
      : "";
    this.out.push(
      `<text ${place} ${FACES[face]} font-size="${short(sizeMm, 4)}" fill="${ink}"${anchored}${turned}${halo}` +
        ` xml:space="preserve">${escaped(this.#boxed(text, face))}</text>\n`,
    );
  }

  #boxed(text: string, face: Face): string {
    const line = tidyText(text);
    const missing = this.ruler?.missing(line, face) ?? [];
    return missing.length ? Array.from(line, (char) => (missing.includes(char) ? BOX : char)).join("") : line;
  }
}

const strokeAttributes = ({ ink, widthMm, dashMm = [], cap, join }: Stroke): string =>
  ` stroke="${ink}" stroke-width="${short(widthMm, 3)}"` +
  (dashMm.length ? ` stroke-dasharray="${dashMm.map((mm) => short(mm, 3)).join(" ")}"` : "") +
  (cap === "round" ? ' stroke-linecap="round"' : "") +
  (join === "round" ? ' stroke-linejoin="round"' : "");

function pathData({ parts, closed }: Shape): string {
  let d = "";
  for (const part of parts) {
    if (part.length < 4) continue;
    d += part.length > FINE_POINTS * 2 ? manyPoints(part) : fewPoints(part);
    if (closed) d += "Z";
  }
  return d;
}

function fewPoints(part: Float64Array): string {
  let d = "";
  for (let i = 0; i < part.length; i += 2)
    d += `${i ? "L" : "M"}${short(part[i] as number, 3)} ${short(part[i + 1] as number, 3)}`;
  return d;
}

/** Steps between places rounded first, so that their errors do not add up. */
function manyPoints(part: Float64Array): string {
  let [x, y] = [Math.round((part[0] as number) * 100), Math.round((part[1] as number) * 100)];
  const start = `M${hundredths(x)} ${hundredths(y)}l`;
  let steps = "";
  for (let i = 2; i < part.length; i += 2) {
    const [toX, toY] = [Math.round((part[i] as number) * 100), Math.round((part[i + 1] as number) * 100)];
    if (toX === x && toY === y) continue;
    const dx = hundredths(toX - x);
    const dy = hundredths(toY - y);
    // A minus parts two numbers as well as a space does.
    steps += `${steps === "" || dx.startsWith("-") ? "" : " "}${dx}${dy.startsWith("-") ? "" : " "}${dy}`;
    [x, y] = [toX, toY];
  }
  // All on one place: a step of nothing, so that the path stays a path.
  return start + (steps || "0 0");
}

/** A whole number of hundredths, without needless digits: -5 is "-.05". */
function hundredths(n: number): string {
  const size = Math.abs(n);
  const rest = size % 100;
  const whole = (size - rest) / 100;
  const tail = rest === 0 ? "" : rest % 10 === 0 ? `.${rest / 10}` : rest < 10 ? `.0${rest}` : `.${rest}`;
  return `${n < 0 ? "-" : ""}${whole || !tail ? whole : ""}${tail}`;
}

const short = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)) || 0);

const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};
/** Also without what XML forbids even when escaped: control characters and halves of surrogate pairs. */
const escaped = (text: string): string =>
  text
    .replace(/[&<>"']/g, (char) => ESCAPES[char] as string)
    // oxlint-disable-next-line no-control-regex
    .replace(/[\0-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]|\p{Cs}/gu, "\ufffd");

/** A short name that differs between titles. */
function fingerprint(text: string): string {
  let hash = 5381;
  for (let i = 0; i < text.length; i++) hash = (Math.imul(hash, 33) ^ text.charCodeAt(i)) >>> 0;
  return hash.toString(36);
}
