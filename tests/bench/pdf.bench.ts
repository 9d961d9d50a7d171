/**
 * An A3 sheet full of contours: laid on paper, written as PDF and as SVG. 200,000 and 650,000 positions in lines of a thousand, each
 * position a fifth of a millimetre from the last: a hillside at 1:25 000 from heights every 5 m. Sizes and memory are printed.
 */
import { bench, describe } from "vitest";
import { sheetFrame } from "../../core/sheet/frame/sheet-frame.ts";
import { pageSvg } from "../../core/sheet/page/page-svg.ts";
import type { Page, PageItem, PageSet } from "../../core/sheet/page/page.ts";
import { loadSheetFonts } from "../../electron/services/sheets/fonts.ts";
import { pagesPdf } from "../../electron/services/sheets/pages-pdf.ts";

const frame = sheetFrame({
  centre: [7.53, 46.2],
  scale: 25_000,
  map: { x: 10, y: 10, width: 400, height: 250 },
});
const fonts = await loadSheetFonts();
/** The same figures in every run. */
let seed = 20_261_126;
const chance = (): number => (seed = (Math.imul(seed, 1_103_515_245) + 12_345) >>> 0) / 2 ** 32;

function contours(positions: number): Float64Array[] {
  return Array.from({ length: positions / 1000 }, () => {
    const line = new Float64Array(2000);
    let [x, y, heading, bend] = [10 + 400 * chance(), 10 + 250 * chance(), 7 * chance(), 0];
    for (let i = 0; i < 2000; i += 2) {
      [line[i], line[i + 1]] = frame.toLonLat([x, y]);
      bend = 0.95 * bend + 0.1 * (chance() - 0.5);
      heading += bend;
      x += 0.2 * Math.cos(heading);
      y += 0.2 * Math.sin(heading);
    }
    return line;
  });
}

const page = (parts: readonly Float64Array[]): PageSet => ({
  title: "A3",
  notes: [],
  pages: [
    {
      widthMm: 420,
      heightMm: 297,
      title: "A3",
      items: parts.map((part): PageItem => ({
        kind: "shape",
        shape: { parts: [part], closed: false },
        stroke: { ink: "#8a5a2b", widthMm: 0.12, cap: "round", join: "round" },
      })),
    },
  ],
});

const few = { iterations: 5, time: 0, warmupIterations: 1, warmupTime: 0 };
for (const positions of [200_000, 650_000]) {
  const ground = contours(positions);
  const set = page(ground.map((line) => frame.lineToPaper(line)));
  const svg = (): string => pageSvg(set.pages[0] as Page);
  const { user } = process.cpuUsage();
  const { length } = await pagesPdf(set, fonts);
  const ms = (process.cpuUsage().user - user) / 1000;
  const mb = (bytes: number): string => `${(bytes / 1e6).toFixed(2)} MB`;
  const most = process.memoryUsage.rss();
  console.log(
    `${positions}: PDF ${mb(length)}, ${ms.toFixed(0)} ms on the processor; SVG ${mb(svg().length)}; process ${mb(most)}`,
  );

  describe(`${positions} positions`, () => {
    bench("laid on paper", () => void ground.map((line) => frame.lineToPaper(line)), few);
    bench("written as PDF", async () => void (await pagesPdf(set, fonts)), few);
    bench("written as SVG", () => void svg(), few);
  });
}
