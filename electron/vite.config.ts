import { fileURLToPath } from "node:url";
import { defineConfig } from "vite";

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/**
 * Builds what runs in Node and in the shell. Packages are bundled so that a command starts quickly; left outside are
 * Electron itself, what asks for it, and what must find files beside its own.
 */
const OUTSIDE = ["electron", "electron-store", "@cwasm/webp", "node-sqlite3-wasm"];

export default defineConfig({
  root: at("."),
  publicDir: false,
  builder: {
    async buildApp(builder) {
      for (const name of ["node", "preload"]) {
        const environment = builder.environments[name];
        if (environment) await builder.build(environment);
      }
    },
  },
  environments: {
    node: {
      consumer: "server",
      resolve: { noExternal: true, external: OUTSIDE },
      build: {
        target: "node20",
        outDir: at("../dist/electron"),
        emptyOutDir: true,
        ssr: true,
        minify: false,
        sourcemap: false,
        rollupOptions: {
          input: {
            main: at("main.ts"),
            "browser-host": at("browser-host/main.ts"),
            cli: at("cli/run.ts"),
            "map-worker": at("services/map-making/map-worker.ts"),
            "press-worker": at("services/sheets/press-worker.ts"),
            "map-jobs-worker": at("services/map-jobs-worker.ts"),
            "mbtiles-worker": at("services/archives/mbtiles-worker.ts"),
          },
          output: { format: "es", entryFileNames: "[name].js", chunkFileNames: "parts/[name]-[hash].js" },
        },
      },
    },
    // A sandboxed preload is one CommonJS file.
    preload: {
      consumer: "server",
      resolve: { noExternal: true, external: ["electron"] },
      build: {
        target: "node20",
        outDir: at("../dist/electron"),
        emptyOutDir: false,
        ssr: true,
        minify: false,
        rollupOptions: {
          input: { preload: at("preload.ts") },
          output: { format: "cjs", entryFileNames: "[name].cjs" },
        },
      },
    },
  },
});
