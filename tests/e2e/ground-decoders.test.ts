/** What a real browser makes of WebP heights and of Brotli, against GDAL's reading (tests/fixtures/map/README.md) and Node's. */
import { readFileSync } from "node:fs";
import { brotliCompressSync } from "node:zlib";
import type { Browser, Page } from "playwright-core";
import { build, type Rolldown } from "vite";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { heightsFromPixels } from "../../core/terrain/height-encoding.ts";
import { GROUND_DECODERS } from "../../electron/services/ground-decoders.ts";
import { launchBrowser } from "./support/browser.ts";

const fixture = (name: string): Buffer => readFileSync(new URL(`../fixtures/map/${name}`, import.meta.url));
let browser: Browser;
let page: Page;
beforeAll(async () => {
  const built = (await build({
    configFile: false,
    logLevel: "error",
    build: {
      write: false,
      minify: false,
      lib: {
        entry: new URL("../../renderer/archive/ground-decoders.ts", import.meta.url).pathname,
        formats: ["iife"],
        name: "here",
      },
    },
  })) as Rolldown.RolldownOutput[];
  browser = await launchBrowser();
  page = await browser.newPage();
  await page.addScriptTag({ content: `${built[0]?.output[0].code ?? ""}; globalThis.here = here;` });
});
afterAll(async () => await browser?.close());

async function inBrowser(
  name: string,
): Promise<{ width: number; height: number; channels: number; data: Uint8Array }> {
  const { data, ...rest } = await page.evaluate(async (packed) => {
    const { GROUND_DECODERS: decoders } = (
      globalThis as unknown as { here: typeof import("../../renderer/archive/ground-decoders.ts") }
    ).here;
    const pixels = await decoders.webp!(Uint8Array.from(atob(packed), (c) => c.charCodeAt(0)));
    return { ...pixels, data: btoa(Array.from(pixels.data, (v) => String.fromCharCode(v)).join("")) };
  }, fixture(name).toString("base64"));
  return { ...rest, data: new Uint8Array(Buffer.from(data, "base64")) };
}

describe("a browser", () => {
  it.for(["terrarium.webp", "mapbox.webp", "voids.webp"])(
    "decodes %s to the very bytes libwebp gives",
    async (name) => {
      const here = await inBrowser(name);
      const there = await GROUND_DECODERS.webp!(new Uint8Array(fixture(name)));
      expect([here.width, here.height, here.channels]).toEqual([128, 128, 4]);
      let seen = 0;
      for (let i = 0; i < here.data.length; i += 4) {
        expect(here.data[i + 3]).toBe(there.data[i + 3]);
        // Wholly transparent pixels have no colour to speak of.
        if (there.data[i + 3] === 0) continue;
        seen++;
        if ([0, 1, 2].some((k) => here.data[i + k] !== there.data[i + k])) expect.fail(`pixel ${i / 4}`);
      }
      expect(seen).toBeGreaterThan(15_000);
    },
  );

  it("gives GDAL's heights", async () => {
    const { pixels, side } = JSON.parse(fixture("pictures.json").toString()) as {
      side: number;
      pixels: { column: number; row: number; terrarium: number }[];
    };
    const heights = heightsFromPixels(await inBrowser("terrarium.webp"), "terrarium");
    for (const { column, row, terrarium } of pixels)
      expect(heights[row * side + column]).toBeCloseTo(terrarium, 4);
  });

  it("unpacks Brotli where its platform does, and no more than it may", async () => {
    const plain = Buffer.from("contour, stream, path; ".repeat(4000));
    const got = await page.evaluate(async (packed) => {
      const { GROUND_DECODERS: decoders } = (
        globalThis as unknown as { here: typeof import("../../renderer/archive/ground-decoders.ts") }
      ).here;
      if (!decoders.unbrotli) return null;
      const bytes = Uint8Array.from(atob(packed), (c) => c.charCodeAt(0));
      const most = await Promise.resolve(decoders.unbrotli(bytes, 1000)).then(
        () => "all",
        () => "refused",
      );
      return { text: new TextDecoder().decode(await decoders.unbrotli(bytes, 1e6)), most };
    }, brotliCompressSync(plain).toString("base64"));
    // Without it an archive packed so is refused, see tests/core/map/unpack.test.ts.
    console.log(got ? "This browser has Brotli." : "SKIPPED: this browser has no Brotli.");
    if (got) expect(got).toEqual({ text: plain.toString(), most: "refused" });
  });
});
