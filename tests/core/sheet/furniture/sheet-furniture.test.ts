/** Whole sheets: nothing collides, nothing is lost, on every paper. Common practice, no source, but for what the other tests hold. */
import { describe, expect, it } from "vitest";
import { Fault } from "../../../../core/fault.ts";
import { britishGrid } from "../../../../core/geodesy/grid.ts";
import { CAUTIONS, INVENTED } from "../../../../core/legs/cautions.ts";
import { degreeTicks, tickWords } from "../../../../core/sheet/furniture/degree-ticks.ts";
import { sheetDeclination } from "../../../../core/sheet/furniture/sheet-declination.ts";
import {
  type Furniture,
  type FurnitureInput,
  sheetFurniture,
} from "../../../../core/sheet/furniture/sheet-furniture.ts";
import { EDGE_MM, sheetRoom, type SheetRoom } from "../../../../core/sheet/furniture/sheet-room.ts";
import { cutText, wrapText } from "../../../../core/sheet/furniture/set-text.ts";
import { type FrameWish, sheetFrame } from "../../../../core/sheet/frame/sheet-frame.ts";
import type { Rect } from "../../../../core/sheet/page/page.ts";
import { PAPERS, paperSize } from "../../../../core/sheet/page/paper-size.ts";
import { groupsOf, textBox, texts } from "./items.ts";
import { plainRuler } from "./plain-ruler.ts";

const MODEL = {
  date: "2026-06-15",
  declination: { use: "model", printed: null, beyondModel: false },
} as const;
const MAP = {
  title: "Skardfjell and Nordre Skardtind",
  interval: { value: 10, unit: "m" },
  source: "heights and lines made from a seed for practice",
  date: "2026-05-01",
  attribution: "Sample map of the program, free for any use",
  datum: "invented mean sea level",
  invented: true,
} as const;

function sheetOf(
  room: SheetRoom,
  frameWish: Partial<FrameWish> = {},
  more: Partial<FurnitureInput> = {},
): Furniture {
  const frame = sheetFrame({ centre: [8.63, 60.61], scale: 25_000, map: room.map, ...frameWish });
  return sheetFurniture({
    frame,
    room,
    ruler: plainRuler,
    title: "Practice walk over Skardfjell",
    sheet: 2,
    sheets: 5,
    map: MAP,
    date: MODEL.date,
    declination: sheetDeclination(frame, 500, MODEL),
    pace: { per100m: 65, steps: 2 },
    ...more,
  });
}

const meet = (a: Rect, b: Rect): boolean =>
  a.x + 1e-6 < b.x + b.width &&
  b.x + 1e-6 < a.x + a.width &&
  a.y + 1e-6 < b.y + b.height &&
  b.y + 1e-6 < a.y + a.height;
const ALL = Object.keys(PAPERS).flatMap((name) =>
  [false, true].map((landscape) => [name, landscape] as const),
);
const words = (furniture: Furniture, name: string): string =>
  groupsOf(furniture.around, name)
    .flatMap((group) => texts(group.items))
    .map(({ text }) => text)
    .join(" ");

describe.each(ALL)("%s, landscape %s", (name, landscape) => {
  const paper = paperSize(name, landscape);
  const room = sheetRoom(paper);

  it("keeps the printer's edge, and its places apart", () => {
    const places = [room.map, ...room.furniture];
    for (const [i, place] of places.entries()) {
      expect(place.x).toBeGreaterThanOrEqual(EDGE_MM - 1e-9);
      expect(place.y).toBeGreaterThanOrEqual(EDGE_MM - 1e-9);
      expect(place.x + place.width).toBeLessThanOrEqual(paper.widthMm - EDGE_MM + 1e-9);
      expect(place.y + place.height).toBeLessThanOrEqual(paper.heightMm - EDGE_MM + 1e-9);
      for (const other of places.slice(i + 1)) expect(meet(place, other)).toBe(false);
    }
    const share = (room.map.width * room.map.height) / (paper.widthMm * paper.heightMm);
    expect(share).toBeGreaterThan(name === "a5" ? 0.44 : 0.6);
  });

  it("has every caution whole, and what must never be missing", () => {
    const furniture = sheetOf(room);
    expect(words(furniture, "cautions")).toBe([INVENTED, ...CAUTIONS].join(" "));
    expect(words(furniture, "scale")).toContain("1:25\u202f000");
    expect(words(furniture, "scale")).toContain("not true to scale.");
    expect(words(furniture, "norths")).toContain("Map to compass:");
    expect(words(furniture, "norths")).toMatch(/Declination .* a year\./);
    expect(words(furniture, "facts")).toContain("UTM zone 32");
    expect(words(furniture, "facts")).toContain("True to scale at the centre");
    expect(words(furniture, "facts")).toContain("Contours every 10");
    expect(words(furniture, "facts")).toContain("Map: Skardfjell");
    expect(words(furniture, "title")).toContain("sheet 2 of 5");
  });

  it("names who must be named, also where two zones have to be explained", () => {
    expect(words(sheetOf(room, { centre: [11.999, 47] }), "facts")).toMatch(
      /Two grids meet .* free for any use\./,
    );
  });

  it("sets no text over another or beyond the printer's edge", () => {
    const at = (share: number): readonly [number, number] => [
      room.map.x + room.map.width * share,
      room.map.y,
    ];
    const furniture = sheetOf(
      room,
      {},
      {
        continues: [
          { at: at(0.31), edge: "top", sheet: 3 },
          { at: [room.map.x, room.map.y + 40], edge: "left", sheet: 12 },
        ],
      },
    );
    const set = texts(furniture.around);
    const boxes = set.map((item) => textBox(item, plainRuler));
    for (const [i, box] of boxes.entries()) {
      expect(box.x, set[i]?.text).toBeGreaterThan(EDGE_MM - 0.05);
      expect(box.x + box.width, set[i]?.text).toBeLessThan(paper.widthMm - EDGE_MM + 0.05);
      expect(box.y, set[i]?.text).toBeGreaterThan(EDGE_MM - 0.05);
      expect(box.y + box.height, set[i]?.text).toBeLessThan(paper.heightMm - EDGE_MM + 0.05);
      expect(meet(box, room.map), set[i]?.text).toBe(false);
      for (const [j, other] of boxes.entries())
        if (j > i) expect(meet(box, other), `“${set[i]?.text}” and “${set[j]?.text}”`).toBe(false);
    }
    expect(set.some(({ text }) => text === "sheet 3")).toBe(true);
    expect(set.some(({ text }) => text === "12")).toBe(true);
  });
});

it("paper too small is one sentence", () => {
  expect(() => sheetRoom({ widthMm: 105, heightMm: 148 })).toThrow(Fault);
});

it("a roamer stands in the margin where there is room, and a wider edge is kept", () => {
  expect(sheetRoom(paperSize("a3", true), { roamerMm: 40 }).roamer).not.toBe(null);
  expect(sheetRoom(paperSize("a5"), { roamerMm: 40 }).roamer).toBe(null);
  expect(sheetRoom(paperSize("a4"), { edgeMm: 12 }).title.x).toBe(12);
});

describe("in other places", () => {
  const room = sheetRoom(paperSize("a4"));

  it("two zones, bands, turned sheets and grids of the user's keep labels apart", () => {
    for (const wish of [
      { centre: [11.999, 47] },
      { centre: [3.2, 0.01] },
      { centre: [9, 48] },
      { centre: [30, 86] },
      { centre: [179.999, -17] },
      { centre: [-3.2, 55.9], grid: britishGrid() },
      { centre: [8.63, 60.61], turnDeg: 37 },
      { centre: [8.63, 60.61], turnDeg: 200, scale: 10_000 },
      { centre: [174.8, -41.3], scale: 50_000 },
    ] as const) {
      const furniture = sheetOf(room, wish);
      const boxes = groupsOf(furniture.around, "margin").flatMap((group) =>
        texts(group.items).map((item) => textBox(item, plainRuler)),
      );
      expect(boxes.length).toBeGreaterThan(12);
      for (const [i, box] of boxes.entries())
        for (const other of boxes.slice(i + 1)) expect(meet(box, other)).toBe(false);
    }
  });

  it("every edge has one full coordinate of each axis that meets it", () => {
    const furniture = sheetOf(room);
    const margin = groupsOf(furniture.around, "margin").flatMap((group) => texts(group.items));
    expect(margin.filter(({ text }) => text === "000mE")).toHaveLength(2);
    expect(margin.filter(({ text }) => text === "000mN")).toHaveLength(2);
  });

  it("letters of the squares stand on both sides of a line between two, and names are told to keep off", () => {
    // GeoConvert -m -p -5 gives 32VMN west and 32VNN east of 500 000 m E here.
    const furniture = sheetOf(room, { centre: [9.001, 60.61] });
    const over = groupsOf(furniture.over, "grid").flatMap((group) => texts(group.items));
    expect(new Set(over.map(({ text }) => text))).toEqual(new Set(["MN", "NN"]));
    expect(furniture.taken).toHaveLength(over.length);
    expect(words(furniture, "facts")).toContain("100 km squares MN, NN");
  });

  it("no grid, no map, a title of 500 letters and no declination are all set", () => {
    const frame = sheetFrame({ centre: [8.63, 60.61], scale: 25_000, map: room.map });
    const furniture = sheetOf(
      room,
      {},
      {
        wish: { gridStepM: null, degreeTicks: false, magneticLinesMm: 30 },
        map: null,
        title: "Über die Skardfjellhochebene ".repeat(18),
        declination: { ...sheetDeclination(frame, null, MODEL), deg: null },
      },
    );
    expect(groupsOf(furniture.over, "magnetic north")).toHaveLength(0);
    expect(words(furniture, "norths")).toContain("Declination not known");
    expect(words(furniture, "facts")).toContain("No map");
    expect(words(furniture, "title")).toContain("…");
  });
});

describe("latitude and longitude", () => {
  const room = sheetRoom(paperSize("a3"));

  it("ticks stand where their degrees are, within a hundredth of a millimetre", () => {
    for (const centre of [
      [8.63, 60.61],
      [3.2, 0.01],
      [174.8, -41.3],
      [179.999, -17],
    ] as const)
      for (const scale of [10_000, 25_000, 63_360]) {
        const frame = sheetFrame({ centre, scale, map: room.map });
        const ticks = degreeTicks(frame);
        expect(ticks.length).toBeGreaterThan(8);
        for (const { of, seconds, at } of ticks) {
          const place = frame.toLonLat(at);
          const deg = of === "longitude" ? ((seconds / 3600 + 540) % 360) - 180 : seconds / 3600;
          const moved = frame.toPaper(of === "longitude" ? [deg, place[1]] : [place[0], deg]);
          expect(Math.hypot(moved[0] - at[0], moved[1] - at[1])).toBeLessThan(0.01);
        }
      }
  });

  it("are written as degrees, minutes and seconds", () => {
    expect(tickWords({ of: "latitude", seconds: 60 * 3600 + 37 * 60 }, true)).toEqual(["60°", "37′\u00a0N"]);
    expect(tickWords({ of: "longitude", seconds: -(8 * 3600 + 30) }, true)).toEqual([
      "8°",
      "00′\u00a030″\u00a0W",
    ]);
    expect(tickWords({ of: "longitude", seconds: 8 * 3600 + 120 }, false)).toEqual(["02′"]);
    expect(tickWords({ of: "longitude", seconds: 180 * 3600 + 60 }, true)).toEqual(["179°", "59′\u00a0W"]);
    expect(tickWords({ of: "latitude", seconds: 0 }, true)).toEqual(["0°"]);
  });
});

describe("text in columns", () => {
  it("breaks at spaces, not at no-break spaces, and words too long between letters", () => {
    const size = 3;
    const wide = 20 * 0.53 * size;
    const lines = wrapText(`one two three 25\u00a0km ${"x".repeat(47)} end`, wide, "text", size, plainRuler);
    expect(lines.every((line) => plainRuler.widthMm(line, "text", size) <= wide)).toBe(true);
    expect(
      lines
        .join(" ")
        .replace(/(x) (x)/g, "$1$2")
        .replace(/(x) (x)/g, "$1$2"),
    ).toContain("x".repeat(47));
    expect(lines[0]).toBe("one two three 25\u00a0km");
  });

  it("cuts with an ellipsis between whole letters", () => {
    const flags = "🇳🇴".repeat(30);
    const cut = cutText(flags, 30, "text", 3, plainRuler);
    expect(cut).toMatch(/^(🇳🇴)+…$/u);
    expect(plainRuler.widthMm(cut, "text", 3)).toBeLessThanOrEqual(30);
  });
});
