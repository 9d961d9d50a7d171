/** What is said of lines: lines with one right answer any instructor knows (common practice, no source). Every leg runs 1000 m east. */
import { describe, expect, test } from "vitest";
import type { LegFigures } from "../../../../core/legs/figures.ts";
import { legFigures } from "../../../../core/legs/leg-figures.ts";
import { kindAndName } from "../../../../core/legs/line-kinds.ts";
import type { MapFeatures } from "../../../../core/map/features.ts";
import { drawn, INFO, lineMap, place } from "../support/line-map.ts";
import { settings, walked } from "./walked.ts";

describe("what is said", () => {
  test("a stop at the target names the sure one behind it", () => {
    const { backstop, notes } = walked([
      drawn(
        "stream",
        [
          [1000, -300],
          [1000, 300],
        ],
        "Fern Beck",
      ),
      drawn(
        "road",
        [
          [1180, -500],
          [1180, 500],
        ],
        "Moor Road",
      ),
    ]);
    expect(backstop).toMatchObject({ kind: "stream", beyondM: 0 });
    expect(notes.join(" ")).toContain("Behind it the Moor Road stops who goes on, 180 m beyond the target.");
  });

  test("kind and name in words", () => {
    expect(kindAndName("stream", "Fern Beck")).toBe("stream Fern Beck");
    expect(kindAndName("road", "Moor Road")).toBe("Moor Road");
    expect(kindAndName("road", "Broadway")).toBe("road Broadway");
    expect(kindAndName("woodEdge", "High Wood")).toBe("edge of High Wood");
    expect(kindAndName("powerLine", null)).toBe("power line");
  });

  const on = (map: Partial<MapFeatures>): LegFigures =>
    legFigures(
      { n: 1, from: { label: "A", lonLat: place(0, 0) }, to: { label: "B", lonLat: place(1000, 0) } },
      { map: { ...lineMap([]), ...map }, elevation: null },
      settings,
    );

  test("a map that shows no lines is not said to have none", () => {
    const { notes } = on({ info: { ...INFO, roles: { contour: { layer: "contour" } } } });
    expect(notes.join(" ")).toContain("This map shows no lines");
    expect(notes.join(" ")).not.toContain("Nothing within");
  });

  test("beyond the map's edge nothing is claimed", () => {
    const edge = place(1200, 0)[0];
    const blind: MapFeatures["blind"] = (box) => (box[2] > edge ? [{ bbox: box, reason: "outside" }] : []);
    const { notes } = on({ blind });
    expect(notes.join(" ")).toContain("the map does not show all of the 500 m beyond the target");
    expect(notes.join(" ")).not.toContain("Nothing within");
    expect(notes.join(" ")).not.toContain("Part of the leg");
  });

  test("a leg that leaves the map says so", () => {
    const { notes, blind } = on({ info: { ...INFO, bounds: [20, -35, place(600, 0)[0], -33] } });
    expect(notes).toContain("From 600 m on the leg lies outside the map: what is there is not known.");
    expect(blind).toHaveLength(1);
    const holes = on({ blind: (bbox) => [{ bbox, reason: "missing" }] });
    expect(holes.notes).toContain("The map has no data for the whole leg: what is there is not known.");
  });
});
