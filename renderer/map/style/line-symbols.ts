/** Small marks set along lines and in areas, drawn here so that they follow the theme and need no picture file. */

export type SymbolShape = "block" | "cross" | "bar" | "tooth" | "marsh" | "hatch" | "summit" | "height";

export const symbolName = (shape: SymbolShape, colour: string): string => `${shape}|${colour}`;

interface Drawing {
  readonly width: number;
  readonly height: number;
  draw(pen: OffscreenCanvasRenderingContext2D, colour: string): void;
}

const line = (pen: OffscreenCanvasRenderingContext2D, ...xy: readonly number[]): void => {
  pen.beginPath();
  pen.moveTo(xy[0] as number, xy[1] as number);
  for (let i = 2; i < xy.length; i += 2) pen.lineTo(xy[i] as number, xy[i + 1] as number);
  pen.stroke();
};

// Along a line x runs with it; the drawing's middle sits on it.
const DRAWINGS: Record<SymbolShape, Drawing> = {
  block: { width: 5, height: 5, draw: (pen) => pen.fillRect(0.9, 0.9, 3.2, 3.2) },
  cross: {
    width: 9,
    height: 9,
    draw(pen) {
      line(pen, 2, 2, 7, 7);
      line(pen, 2, 7, 7, 2);
    },
  },
  bar: {
    width: 7,
    height: 13,
    draw(pen) {
      pen.lineWidth = 1.4;
      line(pen, 3.5, 1, 3.5, 12);
    },
  },
  // Points to the right of the line's direction: the lower side.
  tooth: {
    width: 6,
    height: 12,
    draw(pen) {
      pen.beginPath();
      pen.moveTo(0.8, 6);
      pen.lineTo(5.2, 6);
      pen.lineTo(3, 11);
      pen.fill();
    },
  },
  marsh: {
    width: 28,
    height: 20,
    draw(pen) {
      pen.lineWidth = 1;
      for (const [x, y] of [
        [4, 5],
        [18, 15],
      ] as const) {
        line(pen, x - 4, y, x + 6, y);
        line(pen, x + 1, y, x + 1, y - 4);
        line(pen, x - 1.5, y, x - 3, y - 3);
        line(pen, x + 3.5, y, x + 5, y - 3);
      }
    },
  },
  // Of lines at a slant that go on from one square to the next.
  hatch: {
    width: 14,
    height: 14,
    draw(pen) {
      // Finer than contours, which stay to be counted under it.
      pen.lineWidth = 0.6;
      for (const shift of [-14, 0, 14]) line(pen, shift - 1, 15, shift + 15, -1);
    },
  },
  summit: {
    width: 13,
    height: 12,
    draw(pen) {
      pen.lineWidth = 1.6;
      pen.lineJoin = "round";
      pen.beginPath();
      pen.moveTo(1.5, 10.5);
      pen.lineTo(6.5, 1.8);
      pen.lineTo(11.5, 10.5);
      pen.closePath();
      pen.stroke();
      pen.beginPath();
      pen.arc(6.5, 7.4, 1.3, 0, 7);
      pen.fill();
    },
  },
  height: {
    width: 5,
    height: 5,
    draw(pen) {
      pen.beginPath();
      pen.arc(2.5, 2.5, 1.6, 0, 7);
      pen.fill();
    },
  },
};

export interface SymbolImage {
  readonly image: ImageData;
  readonly pixelRatio: number;
}

/** The picture for a name made by `symbolName`; null for a name that is none. */
export function drawSymbol(name: string, pixelRatio = 2): SymbolImage | null {
  const [shape = "", colour = ""] = name.split("|");
  const drawing = (DRAWINGS as Partial<Record<string, Drawing>>)[shape];
  if (!drawing) return null;
  const canvas = new OffscreenCanvas(drawing.width * pixelRatio, drawing.height * pixelRatio);
  const pen = canvas.getContext("2d");
  if (!pen) return null;
  pen.scale(pixelRatio, pixelRatio);
  pen.strokeStyle = colour;
  pen.fillStyle = colour;
  pen.lineWidth = 1.2;
  pen.lineCap = "round";
  drawing.draw(pen, colour);
  return { image: pen.getImageData(0, 0, canvas.width, canvas.height), pixelRatio };
}
