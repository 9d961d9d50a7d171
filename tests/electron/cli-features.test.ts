/** `make-map` with files of features and rules. */
import { readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { CommandLine } from "./support/command.ts";

const HILLS = fileURLToPath(new URL("../fixtures/cli/hills.tif", import.meta.url));
const legwright = new CommandLine();
const put = (name: string, text: string): void => writeFileSync(join(legwright.folder, name), text);
const feature = (properties: unknown, type: string, coordinates: unknown): string =>
  JSON.stringify({ type: "Feature", properties, geometry: { type, coordinates } });

beforeAll(() => {
  // The model of hills.tif reaches from 20.4192° to 20.519° E and 34.02° to 33.96° S.
  put(
    "ground.geojsonl",
    [
      feature({ waterway: "stream", name: "Fern Beck" }, "LineString", [[20.43, -34], [20.5, -33.97]]),
      feature({ highway: "path" }, "LineString", [[20.43, -33.97], [20.5, -34], [21, -34]]),
      feature({ natural: "peak", ele: "900" }, "Point", [20.45, -33.99]),
      feature({ leisure: "pitch", name: "Old Pitch" }, "Point", [20.46, -33.99]),
    ].join("\n"),
  ); // prettier-ignore
  put("rules.json", '{"rules":[{"when":{"leisure":"pitch"},"role":"name","class":"title"}]}');
  put("wrong.json", '{"rules":[{"when":{"leisure":"pitch"},"role":"playground"}]}');
  put("broken.geojson", `{"type":"FeatureCollection","features":[{"type":"Feature"`);
});
afterAll(() => legwright.remove());

const make = (out: string, ...args: string[]): ReturnType<CommandLine["run"]> =>
  legwright.run(["make-map", out, "--elevation", HILLS, "--interval", "20m", ...args]);
const roles = (map: string): string[] =>
  Object.keys((JSON.parse(legwright.says(["inspect", map, "--format", "json"])) as { roles: object }).roles);

describe("make-map --features", () => {
  it("puts features on the map, derives what they lack, and says what no rule knows", () => {
    const { code, stderr } = make("a.pmtiles", "--features", "ground.geojsonl");
    expect(code, stderr).toBe(0);
    expect(stderr).toMatch(/note: ground\.geojsonl: 4 features \(geojson, WGS 84\)/);
    expect(stderr).toMatch(/note: On the map: stream 1, path 1, peak 1\n/);
    expect(stderr).toMatch(/note: No rule knows 1 features; --rules can map them: leisure=pitch 1\n/);
    expect(roles("a.pmtiles")).toEqual(
      expect.arrayContaining(["contour", "stream", "path", "peak", "spotHeight"]),
    );
    expect(roles("a.pmtiles")).not.toContain("name");
  }, 60_000);

  it("takes a person's rules, and derives what it is told to", () => {
    const { code, stderr } = make(
      "b.pmtiles",
      "--features",
      "ground.geojsonl",
      "--rules",
      "rules.json",
      "--derive",
      "none",
    );
    expect(code, stderr).toBe(0);
    expect(stderr).not.toMatch(/No rule knows/);
    expect(new Set(roles("b.pmtiles"))).toEqual(new Set(["contour", "stream", "path", "peak", "name"]));
  }, 60_000);

  it.each<[string, string[], RegExp]>([
    [
      "a rule that is none",
      ["--features", "ground.geojsonl", "--rules", "wrong.json"],
      /wrong\.json, rules\[1\]\.role/,
    ],
    ["a broken file", ["--features", "broken.geojson"], /cut short.*broken\.geojson/],
    ["a file that is not there", ["--features", "gone.shp"], /gone\.shp/],
    ["a file of another kind", ["--features", HILLS], /hills\.tif/],
    ["an unknown system", ["--features", "ground.geojsonl", "--features-crs", "EPSG:1"], /EPSG:1\b|“1”/],
    ["nothing to derive", ["--derive", "gold"], /“gold”.*--derive/],
  ])(
    "leaves nothing behind: %s",
    (_, args, message) => {
      const before = readdirSync(legwright.folder).toSorted((a, b) => (a < b ? -1 : 1));
      expect(legwright.fails(1, ["make-map", "c.pmtiles", "--elevation", HILLS, ...args])).toMatch(message);
      expect(readdirSync(legwright.folder).toSorted((a, b) => (a < b ? -1 : 1))).toEqual(before);
    },
    60_000,
  );
});
