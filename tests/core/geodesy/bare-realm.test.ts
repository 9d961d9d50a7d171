import { fileURLToPath } from "node:url";
import { createContext, runInContext } from "node:vm";
import { build } from "vite";
import { expect, test } from "vitest";
import { figures } from "../../fixtures/geodesy/figures-anywhere.ts";

// The libraries behind these must need nothing that a worker or a window lacks: bundled for the browser and run in a
// realm with the language's own globals only (no process, require, Buffer or console), they give the same figures.
test(
  "declination, grids, geodesics and daylight need neither Node nor a window",
  { timeout: 60_000 },
  async () => {
    const built = await build({
      configFile: false,
      logLevel: "silent",
      build: {
        write: false,
        minify: false,
        lib: {
          entry: fileURLToPath(new URL("../../fixtures/geodesy/figures-anywhere.ts", import.meta.url)),
          formats: ["iife"],
          name: "bundled",
        },
      },
    });
    const outputs = (Array.isArray(built) ? built : [built]).flatMap((result) =>
      "output" in result ? result.output : [],
    );
    const code = outputs.flatMap((chunk) => (chunk.type === "chunk" ? [chunk.code] : [])).join("\n");
    const answer: unknown = runInContext(`${code}; bundled.figures();`, createContext({}));
    expect(answer).toBe(figures());
    expect(answer).toContain("32T MT 65403 47150");
  },
);
