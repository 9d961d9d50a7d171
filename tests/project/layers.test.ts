import { readdirSync, readFileSync, statSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { describe, expect, it } from "vitest";

const root = resolve(import.meta.dirname, "../..");

/** Order inside core: a folder imports itself and folders of a lower rank only. */
const RANK: Record<string, number> = {
  "fault.ts": 0,
  units: 1,
  geodesy: 2,
  map: 3,
  terrain: 4,
  files: 4,
  travel: 5,
  legs: 6,
  walk: 7,
  course: 8,
  fix: 8,
  // Courses and worksheets are printed too.
  sheet: 9,
  exchange: 8,
  mapmaking: 8,
};
/** Map making turns data into archives: it knows nothing of walks and legs. */
const MAPMAKING_MAY = new Set(["fault.ts", "units", "geodesy", "map", "terrain", "files", "mapmaking"]);

function sources(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) return sources(path);
    // A Vite config runs in Node at build time, whatever folder it serves.
    return /\.(ts|tsx)$/.test(name) && !/\.d\.ts$|^vite\.config/.test(name) ? [path] : [];
  });
}

interface Import {
  readonly from: string;
  readonly to: string;
}

/** Type imports count: a type that points upward ties the layers just as well. */
function importsOf(file: string): Import[] {
  const text = readFileSync(file, "utf8");
  const forms =
    /^\s*(?:import|export)\b[^"'`;=]*?\bfrom\s*["']([^"']+)["']|^\s*import\s*["']([^"']+)["']|\bimport\(\s*["']([^"']+)["']/gm;
  return [...text.matchAll(forms)].map((m) => {
    const target = m[1] ?? m[2] ?? m[3] ?? "";
    return {
      from: relative(root, file),
      to: target.startsWith(".") ? relative(root, resolve(dirname(file), target)) : target,
    };
  });
}

const all = ["core", "electron", "renderer"].flatMap((part) => sources(join(root, part)).flatMap(importsOf));
const coreArea = (path: string): string => path.split("/")[1] ?? "";

describe("imports", () => {
  it("are found at all", () => {
    expect(all.length).toBeGreaterThan(30);
    expect(all.some((i) => i.to === "core/fault.ts")).toBe(true);
  });

  it("of core reach nothing outside core but pure packages", () => {
    const pure =
      /^(core\/|@mapbox\/vector-tile$|fast-png$|fflate$|flatbush$|geographiclib-geodesic$|geomagnetism$|geotiff$|pbf$|pmtiles$|polyclip-ts$|proj4$|saxes$|suncalc$|flatqueue$|valibot$)/;
    expect(all.filter((i) => i.from.startsWith("core/") && !pure.test(i.to))).toEqual([]);
  });

  it("inside core point one way", () => {
    const wrong = all.filter((i) => {
      if (!i.from.startsWith("core/") || !i.to.startsWith("core/")) return false;
      const [from, to] = [coreArea(i.from), coreArea(i.to)];
      const [low, high] = [RANK[to], RANK[from]];
      if (low === undefined || high === undefined) return true;
      return from !== to && (low >= high || (from === "mapmaking" && !MAPMAKING_MAY.has(to)));
    });
    expect(wrong).toEqual([]);
  });

  it("of the window and the shell meet in the contract only", () => {
    const across = all.filter(
      (i) =>
        (i.from.startsWith("renderer/") && i.to.startsWith("electron/") && i.to !== "electron/contract.ts") ||
        (i.from.startsWith("electron/") && i.to.startsWith("renderer/")) ||
        (i.from.startsWith("renderer/") && /^(node:|electron$)/.test(i.to)),
    );
    expect(across).toEqual([]);
  });

  it("make no circle", () => {
    const edges = new Map<string, string[]>();
    for (const { from, to } of all) edges.set(from, [...(edges.get(from) ?? []), to]);
    const done = new Set<string>();
    const circles: string[] = [];
    const walk = (file: string, trail: readonly string[]): void => {
      if (trail.includes(file)) circles.push([...trail.slice(trail.indexOf(file)), file].join(" → "));
      if (done.has(file) || trail.includes(file)) return;
      for (const next of edges.get(file) ?? []) walk(next, [...trail, file]);
      done.add(file);
    };
    for (const file of edges.keys()) walk(file, []);
    expect(circles).toEqual([]);
  });
});

describe("the top level", () => {
  it("holds what was agreed and nothing else", () => {
    const agreed = new Set([
      "README.md",
      "DEVELOPERS.md",
      "package.json",
      "package-lock.json",
      "tsconfig.json",
      "LICENSE",
      "electron",
      "renderer",
      "core",
      "tests",
      "sample-maps",
      "node_modules",
      "dist",
    ]);
    expect(readdirSync(root).filter((name) => !name.startsWith(".") && !agreed.has(name))).toEqual([]);
  });
});
