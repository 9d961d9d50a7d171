/** A page as SVG, read back by a strict XML reader (saxes); attributes as in SVG 2 (W3C). */
import { SaxesParser, type SaxesTagPlain } from "saxes";
import { describe, expect, it } from "vitest";
import { pageSvg, type SvgOptions } from "../../../../core/sheet/page/page-svg.ts";
import { group, lineShape, type Page, type PageItem } from "../../../../core/sheet/page/page.ts";

interface Read {
  readonly tags: readonly SaxesTagPlain[];
  readonly texts: readonly string[];
}
function read(items: readonly PageItem[], options?: SvgOptions, title = "Sheet 1"): Read {
  const page: Page = { widthMm: 215.9, heightMm: 279.4, title, items };
  const [tags, texts]: [SaxesTagPlain[], string[]] = [[], []];
  const parser = new SaxesParser();
  parser.on("error", (error) => {
    throw error;
  });
  parser.on("opentag", (tag) => tags.push(tag));
  parser.on("text", (text) => {
    if (text.trim()) texts.push(text);
  });
  parser.write(pageSvg(page, options)).close();
  return { tags, texts };
}
const text = (label: string): PageItem => ({
  kind: "text",
  text: label,
  at: [10, 20],
  face: "nameItalic",
  sizeMm: 4,
  ink: "#102030",
});

/** Where a path goes, by the rules of path data (SVG 2, 9.3): here only M, L, l and Z. */
function places(d: string): number[] {
  const found: number[] = [];
  for (const [, command, numbers] of d.matchAll(/([MLlZ])([^MLlZ]*)/g)) {
    const values = (numbers?.match(/-?(?:\d+\.?\d*|\.\d+)/g) ?? []).map(Number);
    for (let i = 0; i < values.length; i += 2) {
      const [dx, dy] = command === "l" ? [found.at(-2) as number, found.at(-1) as number] : [0, 0];
      found.push(dx + (values[i] as number), dy + (values[i + 1] as number));
    }
  }
  return found;
}

it("has the paper's size in millimetres", () => {
  const [svg] = read([]).tags;
  expect(svg?.attributes).toMatchObject({ width: "215.9mm", height: "279.4mm", viewBox: "0 0 215.9 279.4" });
});

describe("what people typed", () => {
  const NASTY = `<script>alert("x")</script> ]]> & 'q' </style> &amp;`;

  it("stays text in labels, names of groups and titles", () => {
    const { tags, texts } = read([group(NASTY, [text(NASTY)])], {}, NASTY);
    expect(texts).toEqual([NASTY]);
    expect(tags.map(({ name }) => name)).toEqual(["svg", "rect", "g", "text"]);
    expect(tags[2]?.attributes["data-name"]).toBe(NASTY);
    expect(tags[0]?.attributes["aria-label"]).toBe(NASTY);
  });

  it("never breaks the document, whatever its characters", () => {
    expect(read([text("a\u0000b\u0008\ud800c\ufffe")]).texts).toEqual(["a b \ufffdc\ufffd"]);
  });
});

it("has neither style elements nor style attributes unless fonts are to be carried", () => {
  const items = [text("a"), { kind: "shape", shape: lineShape([0, 0], [1, 1]), fill: "#ffffff" } as const];
  const plain = read(items);
  expect(plain.tags.some(({ name, attributes }) => name === "style" || "style" in attributes)).toBe(false);
  const carried = read(items, { fontCss: "@font-face{font-family:x}</style><script>" });
  expect(carried.tags.map(({ name }) => name)).not.toContain("script");
  expect(carried.tags.map(({ name }) => name)).toContain("style");
});

it("draws long lines within 0.005 mm and short ones within 0.0005 mm, errors never adding up", () => {
  const long = Float64Array.from({ length: 3000 }, (_, i) =>
    i % 2 ? 100 + 50 * Math.sin(i / 90) : i / 15.7,
  );
  const short = [12.34567, 99.87654, 0.00049, 7] as const;
  const stroke = { ink: "#000000", widthMm: 0.1 } as const;
  const { tags } = read([
    { kind: "shape", shape: { parts: [long], closed: false }, stroke },
    { kind: "shape", shape: { parts: [Float64Array.from(short)], closed: true }, stroke },
  ]);
  const [longWay, shortWay] = tags
    .filter(({ name }) => name === "path")
    .map(({ attributes }) => attributes["d"]);
  const found = places(longWay as string);
  expect(found).toHaveLength(long.length);
  expect(Math.max(...found.map((mm, i) => Math.abs(mm - (long[i] as number))))).toBeLessThan(0.00501);
  expect(shortWay).toMatch(/Z$/);
  const off = places(shortWay as string).map((mm, i) => Math.abs(mm - (short[i] as number)));
  expect(Math.max(...off)).toBeLessThan(0.000501);
});

it("cuts groups at their box, each page's clips by names of their own", () => {
  const items = [
    group("a", [], { x: 1, y: 2, width: 3, height: 4 }),
    group("b", [], { x: 5, y: 6, width: 7, height: 8 }),
  ];
  const ids = (title: string): string[] =>
    read(items, {}, title)
      .tags.filter(({ name }) => name === "clipPath")
      .map(({ attributes }) => attributes["id"] as string);
  expect(new Set([...ids("Sheet 1"), ...ids("Sheet 2")]).size).toBe(4);
  const cut = read(items).tags.filter(({ name }) => name === "g")[0]?.attributes["clip-path"];
  expect(cut).toBe(`url(#${ids("Sheet 1")[0]})`);
});

it("turns text about its anchor, with a halo below it, and letters nobody has as boxes", () => {
  const label: PageItem = { ...text("Owl א"), turnDeg: 30, anchor: "end", haloMm: 0.4 } as PageItem;
  const { tags, texts } = read([label], { ruler: { missing: () => ["א"] } });
  expect(texts).toEqual(["Owl □"]);
  expect(tags.at(-1)?.attributes).toMatchObject({
    transform: "rotate(30 10 20)",
    "text-anchor": "end",
    "font-style": "italic",
    "paint-order": "stroke",
    "stroke-width": "0.8",
  });
});
