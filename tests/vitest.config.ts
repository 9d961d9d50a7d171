import { defineConfig } from "vitest/config";

export default defineConfig({
  root: new URL("..", import.meta.url).pathname,
  test: {
    projects: [
      {
        test: {
          name: "unit",
          include: ["tests/{core,electron,renderer,project,sample-maps,hostile}/**/*.test.ts"],
          testTimeout: 30_000,
          // Fixtures are made on whatever machine there is.
          hookTimeout: 120_000,
          benchmark: { include: ["tests/bench/**/*.bench.ts"] },
        },
      },
      {
        // One browser at a time: software rendering takes every core there is.
        test: {
          name: "e2e",
          include: ["tests/e2e/**/*.test.ts"],
          testTimeout: 240_000,
          hookTimeout: 120_000,
          fileParallelism: false,
          benchmark: { include: [] },
        },
      },
    ],
  },
});
