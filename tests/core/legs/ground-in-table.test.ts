/**
 * Landforms, sight and the description in every format of the leg table. The walk goes over a ridge by a formula: ground that
 * rises 40 m in a bell of 90 m half-width, so that two people 1.6 m tall on its two sides do not see each other.
 */
import { beforeAll, describe, expect, test } from "vitest";
import { howOf } from "../../../core/legs/how/how.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import { legTableCsv } from "../../../core/legs/table/leg-table-csv.ts";
import { legTableHtml } from "../../../core/legs/table/leg-table-html.ts";
import { legTableJson } from "../../../core/legs/table/leg-table-json.ts";
import { legTableText } from "../../../core/legs/table/leg-table-text.ts";
import type { LegTable } from "../../../core/legs/table/leg-table.ts";
import { walkFigures } from "../../../core/legs/walk-figures.ts";
import type { LegFigures } from "../../../core/legs/figures.ts";
import type { ElevationModel } from "../../../core/terrain/elevation.ts";
import { BARE_EARTH } from "../../../core/terrain/line-of-sight.ts";
import { drawn, ground, hills, metres, place } from "./support/line-map.ts";

const LINES = [
  drawn("wall", [
    [800, -300],
    [800, 300],
  ]),
  {
    ...drawn("contour", [
      [440, -300],
      [440, 300],
    ]),
    elevationM: 325,
    index: true,
  },
];
const crest = (e: number, n: number): number => 300 + 40 * Math.exp(-(((e - 500) / 90) ** 2)) - n / 200;

async function table(elevation: ElevationModel | null, rest: Partial<LegTable> = {}): Promise<LegTable> {
  const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15", timeZone: "Africa/Johannesburg" };
  const points = [place(0, 0), place(1000, 0), place(1000, 700)].map((lonLat, i) => ({
    label: "ABC".charAt(i),
    lonLat,
  }));
  const over = ground(LINES, elevation);
  return {
    title: "Over the ridge",
    date: settings.date,
    points,
    figures: await walkFigures(points, over, settings),
    map: over.map.info,
    settings,
    ...rest,
  };
}
const plain = (text: string): string => text.replace(/[\u00a0\u202f]/g, " ");

describe("a leg over a ridge", () => {
  let made: LegTable;
  let leg: LegFigures;
  beforeAll(async () => {
    made = await table(hills(crest));
    leg = made.figures.legs[0] as LegFigures;
  });

  test("text: sight always, the description when asked for, contours never", () => {
    const text = legTableText(made);
    expect(text).toMatch(
      /Sight: +B is hidden by the ground at 4\d\d m; a person walking there is seen as far as 5\d\d m/,
    );
    expect(text).toContain(BARE_EARTH);
    expect(text).toContain("Heights from the terrain model; rises and falls");
    expect(text).not.toMatch(/index contour|From A/);
    const described = legTableText({ ...made, describe: true });
    for (const { words } of leg.onTheWay) expect(described).toContain(words);
    expect(described).toMatch(/^ {5}1\. {2}From A /m);
  });

  test("html: the description as a list when asked for, sight with its caution", () => {
    const html = plain(legTableHtml(made));
    expect(html).toContain("B is hidden by the ground");
    expect(html).toContain(BARE_EARTH);
    expect(html).not.toContain('class="way"');
    const described = legTableHtml({ ...made, describe: true });
    expect(described.match(/<li>From A /g)).toHaveLength(1);
    expect(described.match(/<ol class="way">/g)).toHaveLength(2);
  });

  test("csv: columns of landforms, sight and description; contours among what is met", () => {
    const [head, row] = legTableCsv(made).split("\r\n") as [string, string];
    for (const id of ["landforms", "sight", "onTheWay"]) expect(head.split(",")).toContain(id);
    expect(row).toContain("index contour 325 m");
    expect(row).toMatch(/\d+ m ridge/);
    expect(row).toContain("From A ");
  });

  test("json: everything, and which heights the leg rests on", () => {
    const json = legTableJson(made).legs[0];
    expect(json?.elevationFrom).toBe("terrain");
    expect(json?.landforms[0]).toMatchObject({ kind: "ridge", name: null, way: "across" });
    for (const key of ["fromM", "toM", "atM", "reliefM"]) expect(json?.landforms[0]).toHaveProperty(key);
    expect(json?.sight.targetVisible).toBe(false);
    for (const key of ["visibleToM", "farthestM", "hiddenByM", "reason"])
      expect(json?.sight).toHaveProperty(key);
    expect(json?.onTheWay.map(({ words }) => words)).toEqual(leg.onTheWay.map(({ words }) => words));
    expect(json?.crossings.find(({ kind }) => kind === "contour")).toMatchObject({
      elevationM: 325,
      name: null,
    });
    expect(json?.blind).toEqual([]);
    expect(json).not.toHaveProperty("profile");
  });

  test("how: what crossings, landforms and sight rest on", () => {
    const how = (figure: Parameters<typeof howOf>[0]): string => plain(howOf(figure, leg, made).join("\n"));
    expect(how("crossings")).toContain("1 line of the map meets");
    expect(how("crossings")).toContain("Read from the heights and not drawn on the map: 1 crest or trough");
    expect(how("crossings")).toContain("One index contour is crossed");
    expect(how("landforms")).toMatch(
      /\d+ m ridge.*\nA crest counts when it stands 3 m over the ground 100 m/,
    );
    expect(how("sight")).toContain("From an eye 1.6 m above the ground at A to 1.6 m above the ground");
    expect(how("sight")).toContain(BARE_EARTH);
  });
});

describe("heights", () => {
  test("each leg's own are named where they differ, and why landforms are missing", async () => {
    // The terrain ends 200 m north of the first leg: the second has none over most of its way, and no contours.
    const half: ElevationModel = {
      ...hills(crest),
      at: (lonLat) => (metres(lonLat)[1] > 200 ? Number.NaN : crest(...metres(lonLat))),
    };
    const made = await table(half);
    const text = legTableText(made);
    expect(made.figures.legs.map(({ profile }) => profile.from)).toEqual(["terrain", "terrain"]);
    expect(text).toContain("Heights are missing on the way, so what can be seen is not known.");
    const json = legTableJson(made).legs[1];
    expect(json?.sight.targetVisible).toBeNull();
    expect(json?.notes).toContain("Heights are missing on the way, so what can be seen is not known.");
  });

  test("from contours alone: said, with why there are no landforms", async () => {
    const made = await table(null);
    const text = legTableText(made);
    expect(text).not.toContain("Heights from the terrain model");
    expect(text).toContain("Landforms are read from terrain tiles, which this map does not have");
    expect(text.match(/Landforms are read from terrain tiles/g)).toHaveLength(1);
    for (const { notes } of legTableJson(made).legs)
      expect(notes.join(" ")).toContain("Landforms are read from terrain");
  });

  test("terrain on one leg and none on the other", async () => {
    const west: ElevationModel = {
      ...hills(crest),
      at: (lonLat) => (metres(lonLat)[0] > 999 ? Number.NaN : crest(...metres(lonLat))),
    };
    expect(legTableText(await table(west))).toContain(
      "Heights from the terrain model on leg 1; none on leg 2; rises",
    );
  });
});
