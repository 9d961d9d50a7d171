/** Files a program is started with or asked to open. */
import { describe, expect, it } from "vitest";
import { filesAmong, GivenFiles } from "../../electron/services/given-files.ts";

describe("files among arguments", () => {
  it("are all that is no flag, from where the person stands", () => {
    const args = [
      "--no-sandbox",
      "round.walk.geojson",
      "-v",
      "/maps/hills.pmtiles",
      "",
      "../a b.walk.geojson",
    ];
    expect(filesAmong(args, "/home/walks")).toEqual([
      "/home/walks/round.walk.geojson",
      "/maps/hills.pmtiles",
      "/home/a b.walk.geojson",
    ]);
  });
  it("are not without end", () => {
    expect(
      filesAmong(
        Array.from({ length: 1000 }, (_, i) => `${i}`),
        "/",
      ).length,
    ).toBe(20);
  });
});

describe("given files", () => {
  it("wait until they are taken, and are taken once", () => {
    const given = new GivenFiles();
    given.give(["/a"]);
    given.give(["/b"]);
    expect(given.take()).toEqual(["/a", "/b"]);
    expect(given.take()).toEqual([]);
  });
});
