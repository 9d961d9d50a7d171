/**
 * One page's drawing operators. The page is drawn in hundredths of a millimetre, y down: whole numbers for the many points of map
 * lines (within 0.005 mm), one decimal for shapes of few points, which are rulers, grids and frames (within 0.0005 mm).
 */
import type {
  GroupItem,
  Ink,
  Page,
  PageItem,
  Shape,
  ShapeItem,
  Stroke,
  TextItem,
} from "../../../core/sheet/page/page.ts";
import type { SetRun } from "./font-shaping.ts";
import { PdfBytes, short } from "./pdf-bytes.ts";
import { type PdfFont, utf16Hex } from "./pdf-font.ts";

const UNIT_PT = 72 / 25.4 / 100;
const PAPER = "#ffffff";
const REORDERED = /\p{Script=Devanagari}/u;
/** Up to so many points a part is drawn with one decimal. */
const FINE_POINTS = 16;

/** What pages share: fonts by run and grades of opacity, each with its name among the resources. */
export interface PdfShared {
  fontOf(run: SetRun): PdfFont;
  opacityName(opacity: number): string;
  set(text: string, face: TextItem["face"]): readonly SetRun[];
  widthMm(text: string, face: TextItem["face"], sizeMm: number): number;
}

interface Look {
  fill: string;
  ink: string;
  width: number;
  dash: string;
  cap: number;
  join: number;
  opacity: number;
}
const AT_FIRST: Look = { fill: "0 g", ink: "0 G", width: -1, dash: "", cap: 0, join: 0, opacity: 1 };

export function pageContent(page: Page, shared: PdfShared): Uint8Array {
  const writer = new ContentWriter(shared);
  writer.begin(page);
  for (const item of page.items) writer.item(item);
  return writer.out.done();
}

class ContentWriter {
  readonly out = new PdfBytes();
  readonly #shared: PdfShared;
  #look: Look = { ...AT_FIRST };

  constructor(shared: PdfShared) {
    this.#shared = shared;
  }

  begin({ heightMm }: Page): void {
    this.out.text(
      `${short(UNIT_PT, 12)} 0 0 ${short(-UNIT_PT, 12)} 0 ${short(heightMm * 100 * UNIT_PT, 6)} cm\n`,
    );
  }

  item(item: PageItem): void {
    if (item.kind === "group") this.#group(item);
    else if (item.kind === "shape") this.#shape(item);
    else this.#text(item);
  }

  #group({ name, clip, items }: GroupItem): void {
    const { out } = this;
    out.text(`/${pdfName(name)} BMC\n`);
    const kept = { ...this.#look };
    if (clip) {
      const box = [clip.x, clip.y, clip.width, clip.height].map((mm) => short(mm * 100, 1)).join(" ");
      out.text(`q ${box} re W n\n`);
    }
    for (const item of items) this.item(item);
    if (clip) {
      out.text("Q\n");
      this.#look = kept;
    }
    out.text("EMC\n");
  }

  #shape({ shape, fill, fillOpacity = 1, stroke }: ShapeItem): void {
    if (!fill && !stroke) return;
    if (fill) {
      this.#fill(fill);
      this.#opacity(fillOpacity);
    }
    if (stroke) this.#stroke(stroke);
    if (!this.#path(shape)) return;
    this.out.text(fill ? (stroke ? "B*\n" : "f*\n") : "S\n");
  }

  /** False where there is nothing to draw. */
  #path({ parts, closed }: Shape): boolean {
    const { out } = this;
    let any = false;
    for (const part of parts) {
      if (part.length < 4) continue;
      any = true;
      if (part.length <= FINE_POINTS * 2) {
        let text = "";
        for (let i = 0; i < part.length; i += 2)
          text += `${short((part[i] as number) * 100, 1)} ${short((part[i + 1] as number) * 100, 1)} ${i ? "l" : "m"} `;
        out.text(text);
      } else this.#manyPoints(part);
      if (closed) out.text("h\n");
    }
    return any;
  }

  #manyPoints(part: Float64Array): void {
    const { out } = this;
    let [lastX, lastY] = [Number.NaN, Number.NaN];
    for (let i = 0; i < part.length; i += 2) {
      const [x, y] = [Math.round((part[i] as number) * 100), Math.round((part[i + 1] as number) * 100)];
      // Same place on paper as the one before; the last stays, so that ends that meet still do.
      if (x === lastX && y === lastY) continue;
      out
        .int(x)
        .int(y)
        .text(i ? "l\n" : "m\n");
      [lastX, lastY] = [x, y];
    }
  }

  #text({ text, at: [x, y], face, sizeMm, ink, anchor = "start", turnDeg = 0, haloMm }: TextItem): void {
    const runs = this.#shared.set(text, face);
    if (runs.length === 0) return;
    const share = { start: 0, middle: 0.5, end: 1 }[anchor];
    const back = share && this.#shared.widthMm(text, face, sizeMm) * share * 100;
    const [sin, cos] = [Math.sin((turnDeg * Math.PI) / 180), Math.cos((turnDeg * Math.PI) / 180)];
    // Letters stand upright in a page whose y runs down: their own y is turned over.
    const [c, s] = [short(cos, 6), short(sin, 6)];
    const matrix = `${c} ${s} ${s} ${short(-cos, 6)} ${short(x * 100 - back * cos, 2)} ${short(y * 100 - back * sin, 2)} Tm\n`;
    const letters = this.#letters(runs, sizeMm * 100);
    if (haloMm) {
      this.#stroke({ ink: PAPER, widthMm: haloMm * 2, join: "round", cap: "round" });
      // The halo repeats the text; for those who read it stands there once.
      this.out.text(`/Span <</ActualText()>> BDC BT 1 Tr ${matrix}${letters}0 Tr ET EMC\n`);
    }
    this.#fill(ink);
    this.#opacity(1);
    const shown = `BT ${matrix}${letters}ET`;
    // Letters that are set in another order than they are written are told in the written one.
    this.out.text(
      REORDERED.test(text) ? `/Span <</ActualText<FEFF${utf16Hex(text)}>>> BDC ${shown} EMC\n` : `${shown}\n`,
    );
  }

  #letters(runs: readonly SetRun[], size: number): string {
    let text = "";
    for (const run of runs) {
      const font = this.#shared.fontOf(run);
      text += `/${font.name} ${short(size, 2)} Tf`;
      let [pieces, hex, rise] = ["", "", 0];
      const flush = (): void => {
        if (hex) pieces += `<${hex}>`;
        if (pieces) text += `[${pieces}]TJ\n`;
        [pieces, hex] = ["", ""];
      };
      const move = (by: number): void => {
        if (Math.abs(by) < 0.005) return;
        if (hex) pieces += `<${hex}>`;
        hex = "";
        pieces += short(-by, 2);
      };
      for (const glyph of run.glyphs) {
        if (glyph.dy !== rise) {
          flush();
          rise = glyph.dy;
          text += ` ${short((rise / 1000) * size, 2)} Ts`;
        }
        const code = font.code(glyph);
        move(glyph.dx);
        hex += code.hex;
        move(glyph.advance - code.width - glyph.dx);
      }
      flush();
      if (rise) text += "0 Ts\n";
    }
    return text;
  }

  #fill(ink: Ink): void {
    const fill = colour(ink, "g", "rg");
    if (fill === this.#look.fill) return;
    this.#look.fill = fill;
    this.out.text(`${fill}\n`);
  }

  #opacity(opacity: number): void {
    if (opacity === this.#look.opacity) return;
    this.#look.opacity = opacity;
    this.out.text(`/${this.#shared.opacityName(opacity)} gs\n`);
  }

  #stroke({ ink, widthMm, dashMm = [], cap = "butt", join = "miter" }: Stroke): void {
    const look = this.#look;
    const next = {
      ink: colour(ink, "G", "RG"),
      width: widthMm,
      dash: dashMm.map((mm) => short(mm * 100, 1)).join(" "),
      cap: cap === "round" ? 1 : 0,
      join: join === "round" ? 1 : 0,
    };
    let text = "";
    if (next.ink !== look.ink) text += `${next.ink} `;
    if (next.width !== look.width) text += `${short(widthMm * 100, 2)} w `;
    if (next.dash !== look.dash) text += `[${next.dash}] 0 d `;
    if (next.cap !== look.cap) text += `${next.cap} J `;
    if (next.join !== look.join) text += `${next.join} j `;
    Object.assign(look, next);
    if (text) this.out.text(text);
  }
}

function colour(ink: Ink, grey: string, rgb: string): string {
  const [r, g, b] = [1, 3, 5].map((i) => short(Number.parseInt(ink.slice(i, i + 2), 16) / 255, 3));
  return r === g && g === b ? `${r} ${grey}` : `${r} ${g} ${b} ${rgb}`;
}

/** Letters, digits and dashes; the rest of a name is written as dashes. */
const pdfName = (name: string): string => name.replace(/[^A-Za-z0-9-]+/g, "-") || "group";
