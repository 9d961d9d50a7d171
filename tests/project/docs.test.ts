import { existsSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";

const root = resolve(import.meta.dirname, "../..");
const read = (name: string): string => readFileSync(join(root, name), "utf8");
const manifest = JSON.parse(read("package.json")) as {
  scripts: Record<string, string>;
  dependencies: Record<string, string>;
  devDependencies: Record<string, string>;
};

describe.each(["README.md", "sample-maps/GUIDE.md", "DEVELOPERS.md"])("%s", (name) => {
  const text = read(name);

  it("names only files and folders that are there", () => {
    const paths = [...text.matchAll(/`((?:core|electron|renderer|tests|sample-maps)\/[^`\s*…]*)`/g)].map(
      (m) => m[1] as string,
    );
    expect(paths.filter((path) => !existsSync(join(root, path)))).toEqual([]);
  });

  it("names only commands that package.json has", () => {
    const scripts = [...text.matchAll(/npm (?:run (?:-s )?)([a-z-]+)/g)].map((m) => m[1] as string);
    expect(scripts.length).toBeGreaterThan(0);
    expect(scripts.filter((script) => !(script in manifest.scripts))).toEqual([]);
  });
});

describe("DEVELOPERS.md", () => {
  it("says why each package is here", () => {
    const text = read("DEVELOPERS.md");
    const packages = Object.keys({ ...manifest.dependencies, ...manifest.devDependencies });
    const covered = (name: string): boolean =>
      text.includes(name) ||
      name.startsWith("@types/") ||
      name.startsWith("@fontsource/") ||
      name === "oxlint-tsgolint";
    expect(packages.filter((name) => !covered(name))).toEqual([]);
  });

  it("asks for exact versions, and package.json keeps to it", () => {
    const ranges = Object.entries({ ...manifest.dependencies, ...manifest.devDependencies }).filter(
      ([, v]) => !/^\d/.test(v),
    );
    expect(ranges).toEqual([]);
  });
});

describe("the lock file", () => {
  it("names no host, so that it installs from whatever registry is at hand", () => {
    expect(read("package-lock.json")).not.toMatch(/https?:\/\/[^"]*\.tgz/);
  });
});
