// oxlint-disable-next-line no-restricted-imports -- it runs in Node and is no part of the window
import { fileURLToPath } from "node:url";
import { defineConfig } from "vite";
import { packagesWithLicences } from "./vite.config.packages.ts";

const folder = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

export default defineConfig({
  root: folder("."),
  // Relative, because the two hosts serve the window from different origins.
  base: "./",
  define: { LEGWRIGHT_PACKAGES: JSON.stringify(packagesWithLicences()) },
  build: {
    outDir: folder("../dist/renderer"),
    emptyOutDir: true,
    target: "es2023",
    // Nothing inline: the content security policy allows neither inline scripts nor data: fonts.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    // MapLibre alone is over the default limit of 500 kB; it is loaded from the local disk.
    chunkSizeWarningLimit: 1_600,
  },
  worker: { format: "es" },
});
