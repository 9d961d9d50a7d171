import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";

const sheet = (name: string): string =>
  readFileSync(new URL(`../../../renderer/theme/${name}.css`, import.meta.url), "utf8");
const css = sheet("tokens");
const strong = sheet("contrast");

/** Hex colours of one theme by name. */
function tokensOf(selector: string, css: string): Map<string, string> {
  const start = css.indexOf(`${selector} {`);
  const block = css.slice(start, css.indexOf("}", start));
  return new Map(
    [...block.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map((match) => [
      match[1] as string,
      match[2] as string,
    ]),
  );
}

const THEMES = {
  light: tokensOf(":root", css),
  dark: tokensOf(':root[data-theme="dark"]', css),
  night: tokensOf(':root[data-theme="night"]', css),
};

const channels = (hex: string): [number, number, number] =>
  [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16)) as [number, number, number];

// Relative luminance and contrast ratio as defined in WCAG 2.2.
function luminance(hex: string): number {
  const [r, g, b] = channels(hex).map((value) => {
    const share = value / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a: string, b: string): number {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

// WCAG 2.2, 1.4.3: 4.5 for text; 1.4.11: 3 for what must be seen to understand or to use.
const TEXT = [
  ["ink", "paper"],
  ["ink", "paper-raised"],
  ["ink", "hover"],
  ["ink", "pick-wash"],
  ["soft", "paper"],
  ["soft", "paper-raised"],
  ["soft", "hover"],
  ["soft", "pick-wash"],
  ["on-leg", "leg"],
  ["mind", "paper"],
  ["mind", "paper-raised"],
] as const;
const SHAPES = [
  ["focus", "paper"],
  ["focus", "ground"],
  ["leg", "ground"],
  ["leg", "wood"],
  ["follow", "paper"],
  ["stop", "paper"],
  ["works", "ground"],
] as const;

describe.each(Object.entries(THEMES))("theme %s", (_, tokens) => {
  const of = (name: string): string => {
    const colour = tokens.get(name);
    if (!colour) throw new Error(`no token ${name}`);
    return colour;
  };

  test.each(TEXT)("%s on %s can be read", (text, ground) => {
    expect(contrast(of(text), of(ground))).toBeGreaterThanOrEqual(4.5);
  });

  test.each(SHAPES)("%s on %s can be seen", (shape, ground) => {
    expect(contrast(of(shape), of(ground))).toBeGreaterThanOrEqual(3);
  });

  test("has a value of its own for every colour", () => {
    expect([...tokens.keys()].sort()).toEqual([...THEMES.light.keys()].sort());
  });
});

// WCAG 2.2, 1.4.6: 7 for text where more contrast is asked for. By night there is only red light to have it of: pure red on
// black is 5.25.
describe.each(Object.entries(THEMES))("theme %s with more contrast", (name, tokens) => {
  const all = new Map([...tokens, ...tokensOf(`:root[data-theme="${name}"]`, strong)]);
  // As the rule for every theme there has them.
  for (const soft of ["soft", "hairline"]) all.set(soft, all.get("ink") ?? "");
  const of = (token: string): string => all.get(token) ?? "";

  test.each(TEXT.filter(([text]) => text !== "on-leg"))("%s on %s can be read", (text, ground) => {
    expect(contrast(of(text), of(ground))).toBeGreaterThanOrEqual(name === "night" ? 4.5 : 7);
  });

  test.each([...SHAPES, ["hairline", "paper"], ["pick", "paper"], ["follow", "ground"]] as const)(
    "%s on %s can be seen",
    (shape, ground) => {
      expect(contrast(of(shape), of(ground))).toBeGreaterThanOrEqual(3);
    },
  );

  test("contours are stronger than the theme's own, and seen by day", () => {
    for (const line of ["contour", "contour-index", "contour-name"]) {
      const ratio = contrast(of(line), of("ground"));
      expect(ratio, line).toBeGreaterThan(contrast(tokens.get(line) ?? "", tokens.get("ground") ?? ""));
      if (name !== "night") expect(ratio, line).toBeGreaterThanOrEqual(line === "contour-name" ? 7 : 3);
    }
  });

  test("names no colour the themes do not have", () => {
    for (const token of tokensOf(`:root[data-theme="${name}"]`, strong).keys())
      expect([...tokens.keys()]).toContain(token);
  });
});

test("by night there is red light only", () => {
  for (const [name, hex] of tokensOf(':root[data-theme="night"]', strong))
    expect([name, ...channels(hex).slice(1)]).toEqual([name, 0, 0]);
  for (const [name, hex] of THEMES.night) expect([name, ...channels(hex).slice(1)]).toEqual([name, 0, 0]);
});

test("by night contours are dimmer than water, and water than legs", () => {
  const red = (name: string): number => channels(THEMES.night.get(name) ?? "#ffffff")[0];
  expect(red("contour-index")).toBeLessThan(red("water"));
  expect(red("water")).toBeLessThan(red("leg"));
});
