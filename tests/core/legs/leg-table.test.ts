import { describe, expect, test } from "vitest";
import { CAUTIONS, INVENTED } from "../../../core/legs/cautions.ts";
import { legTableCsv } from "../../../core/legs/table/leg-table-csv.ts";
import { legTableHtml } from "../../../core/legs/table/leg-table-html.ts";
import { legTableJson, legTableJsonText } from "../../../core/legs/table/leg-table-json.ts";
import { legTableText } from "../../../core/legs/table/leg-table-text.ts";
import { sampleTable } from "./support/sample-table.ts";

/** Reads CSV by the grammar of RFC 4180 §2, written apart from the writer. */
function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  for (let i = 0; i < text.length;) {
    let field = "";
    if (text[i] === '"') {
      for (i++; !(text[i] === '"' && text[i + 1] !== '"'); i++) {
        if (i >= text.length) throw new Error("a quote is not closed");
        if (text[i] === '"') i++;
        field += text[i];
      }
      i++;
    } else while (i < text.length && text[i] !== "," && text[i] !== "\r") field += text[i++];
    row.push(field);
    if (text[i] === ",") i++;
    else if (text.startsWith("\r\n", i)) {
      rows.push(row);
      row = [];
      i += 2;
    } else throw new Error(`neither comma nor line end at ${i}`);
  }
  return rows;
}

describe("for programs", () => {
  test("JSON has every member of the contract, under its name", async () => {
    const json = legTableJson(await sampleTable());
    expect(Object.keys(json)).toEqual(
      expect.arrayContaining(["walk", "map", "declination", "legs", "totals"]),
    );
    expect(Object.keys(json.walk.points[0] ?? {})).toEqual(["label", "lonLat", "elevationM", "mgrs", "kind"]);
    expect(json.map).toMatchObject({
      title: "Practice ground",
      source: "Drawn for a test",
      intervalM: 10,
      elevationFrom: "terrain",
      invented: false,
    });
    expect(Object.keys(json.declination)).toEqual(
      expect.arrayContaining(["deg", "uncertaintyDeg", "annualChangeDeg", "model", "from", "differenceDeg"]),
    );
    expect(Object.keys(json.totals)).toEqual([
      "distanceM",
      "slopeDistanceM",
      "climbM",
      "descentM",
      "paces",
      "timeS",
    ]);
    expect(json.legs).toHaveLength(4);
    for (const leg of json.legs) {
      expect(Object.keys(leg)).toEqual(
        expect.arrayContaining([
          "n",
          "from",
          "to",
          "fromLonLat",
          "toLonLat",
          "bearingTrueDeg",
          "bearingGridDeg",
          "bearingMagneticDeg",
          "backBearingMagneticDeg",
          "gridConvergenceDeg",
          "declinationDeg",
          "distanceM",
          "slopeDistanceM",
          "climbM",
          "descentM",
          "steepestDeg",
          "elevationErrorM",
          "paces",
          "timeS",
          "crossings",
          "handrails",
          "backstop",
          "notes",
        ]),
      );
      expect(leg).not.toHaveProperty("profile");
    }
    expect(json.legs[0]?.crossings[0]).toMatchObject({ kind: "path", name: null, atM: 412.5, paces: 268 });
    expect(json.legs[0]?.handrails[0]).toMatchObject({ kind: "stream", name: "Fern Beck", side: "right" });
    expect(json.legs[0]?.handrails[0]).not.toHaveProperty("stretches");
    expect(json.legs[1]?.backstop).toMatchObject({ kind: "road", name: "Moor Road", stoppedShare: 1 });
    expect(json.legs[1]?.backstop).not.toHaveProperty("stretches");
  });

  test("JSON text parses back to the same and holds no NaN", async () => {
    const table = await sampleTable();
    const text = legTableJsonText(table);
    expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(legTableJson(table))));
    expect(text).not.toMatch(/NaN|Infinity/);
    expect(text.endsWith("}\n")).toBe(true);
  });

  test("rounding keeps within what figures are held to, and 360 is 0", async () => {
    const table = await sampleTable();
    const [leg] = table.figures.legs;
    if (!leg) throw new Error("no leg");
    const turned = {
      ...leg,
      bearingTrueDeg: 359.9999999 as NonNullable<typeof leg.bearingTrueDeg>,
      distanceM: 1234.56789,
    };
    const json = legTableJson({ ...table, figures: { ...table.figures, legs: [turned] } });
    expect(json.legs[0]?.bearingTrueDeg).toBe(0);
    expect(json.legs[0]?.distanceM).toBe(1234.5679);
  });

  test("points have their grid reference and height; without a map the height is null and so is the map", async () => {
    const withMap = legTableJson(await sampleTable());
    // Height by hand: 300 + 60 sin(e/400) + n/20 at (1000, 800): 300 + 35.91 + 40.
    expect(withMap.walk.points[2]?.elevationM).toBeCloseTo(375.91, 1);
    // Source: GeoConvert -m -p 0 --input-string "-34.02 20.45" (GeographicLib 2.1.2).
    expect(withMap.walk.points[0]?.mgrs).toBe("34HDH4922035490");
    const without = legTableJson(await sampleTable({ noMap: true }));
    expect(without.map).toBeNull();
    expect(without.walk.points.map(({ elevationM }) => elevationM)).toEqual([null, null, null, null, null]);
    for (const leg of without.legs) {
      expect(leg).toMatchObject({ climbM: null, timeS: null, backstop: null });
      expect(leg.notes.length).toBeGreaterThan(0);
    }
  });

  test("CSV is read back by RFC 4180's grammar: one row a leg, as many cells as columns", async () => {
    const table = await sampleTable({ labels: ['The "old" hut, north', "line\r\nbreak"] });
    const rows = readCsv(legTableCsv(table));
    expect(rows).toHaveLength(5);
    expect(new Set(rows.map((row) => row.length)).size).toBe(1);
    const column = (name: string): string[] =>
      rows.slice(1).map((row) => row[rows[0]?.indexOf(name) ?? -1] ?? "missing");
    expect(column("from")[0]).toBe('The "old" hut, north');
    expect(column("to")[0]).toBe("line\r\nbreak");
    expect(Number(column("distanceM")[1])).toBeCloseTo(800, 2);
    expect(column("declinationDeg").every((cell) => Number(cell) < 0)).toBe(true);
  });

  // Source: OWASP, CSV Injection: cells that begin with = + - @ tab or carriage return.
  test.for(["=1+1", "+1", "-1+cmd|' /C calc'!A0", "@SUM(A1)", "\tx", "\rx"])(
    "CSV: a name %j is no formula",
    async (label) => {
      const rows = readCsv(legTableCsv(await sampleTable({ labels: [label] })));
      const cell = rows[1]?.[rows[0]?.indexOf("from") ?? -1];
      // A text that is a plain number stays one: it cannot compute anything.
      expect(cell).toBe(label === "+1" ? "'+1" : `'${label}`);
    },
  );

  test("CSV: negative figures stay figures", async () => {
    const rows = readCsv(legTableCsv(await sampleTable()));
    expect(rows[1]?.[rows[0]?.indexOf("fromLat") ?? -1]).toBe("-34.0200000");
  });

  test("an absent figure is an empty cell", async () => {
    const rows = readCsv(legTableCsv(await sampleTable({ noMap: true })));
    expect(rows[1]?.[rows[0]?.indexOf("climbM") ?? -1]).toBe("");
  });
});

describe("for people", () => {
  test("text: every leg, aligned columns, cautions, declination with model and error", async () => {
    const text = legTableText(await sampleTable());
    const lines = text.split("\n");
    const header = lines.find((line) => line.startsWith("Leg")) ?? "";
    expect(header).toContain("Magnetic bearing");
    const rows = lines.filter((line) => /^\d {2}\S → \S/.test(line));
    expect(rows).toHaveLength(4);
    const end = header.indexOf("Distance") + "Distance".length;
    for (const row of rows) expect(row.slice(0, end)).toMatch(/\d m$/);
    expect(text).toMatch(/Declination 27\.9° W ± 0\.6° on 2026-06-15 by WMM2025/);
    for (const caution of CAUTIONS) expect(text).toContain(caution);
    expect(text).not.toContain(INVENTED);
    expect(text).not.toMatch(/NaN|undefined|null/);
  });

  test("text: control characters in a name do not reach the terminal", async () => {
    const text = legTableText(await sampleTable({ labels: ["\u001b[31mred\u0007"] }));
    expect(text.replaceAll("\n", "")).not.toMatch(/\p{Cc}/u);
  });

  test("an invented place is said to be one in text and on every page", async () => {
    const table = await sampleTable({ info: { invented: true } });
    expect(legTableText(table)).toContain(INVENTED);
    const html = legTableHtml(table);
    expect(html.indexOf(INVENTED)).toBeGreaterThan(html.indexOf("<thead>"));
    expect(html.indexOf(INVENTED)).toBeLessThan(html.indexOf("</thead>"));
    expect(legTableHtml(await sampleTable({ info: { invented: true }, legs: 0 }))).toContain(INVENTED);
  });

  test("HTML: hostile texts stay texts", async () => {
    const evil = `<script>alert(1)</script>"'&`;
    const html = legTableHtml(
      await sampleTable({
        title: evil,
        labels: [evil, evil],
        notes: evil,
        info: { title: evil, source: evil, attribution: evil },
      }),
      {
        fonts: [
          { weight: 400, dataUrl: 'data:font/woff2;base64,AA");}</style><script>' },
          { weight: 700, dataUrl: "https://example.org/a.woff2" },
        ],
      },
    );
    expect(html).not.toContain("<script");
    expect(html).toContain("&lt;script&gt;alert(1)&lt;/script&gt;&quot;&#39;&amp;");
    expect(html).not.toMatch(/https?:/);
    expect(html.match(/<\/style>/g)).toHaveLength(1);
  });

  test("HTML: nothing from outside, page and font set, header repeated, no leg split", async () => {
    const html = legTableHtml(await sampleTable(), {
      paper: "letter",
      fonts: [{ weight: 400, dataUrl: "data:font/woff2;base64,AAAA" }],
    });
    expect(html).toMatch(/@page \{ size: letter/);
    expect(html).toContain('src: url("data:font/woff2;base64,AAAA")');
    expect(html).not.toMatch(/(src|href)="/);
    expect(html).toContain("table-header-group");
    expect(html.match(/<tbody>/g)).toHaveLength(4);
    expect(html).toMatch(/tbody \{ break-inside: avoid/);
    // Smallest type in points: the paper's rule is 9.
    const sizes = Array.from(html.matchAll(/(\d+(?:\.\d+)?)pt/g), ([, size]) => Number(size));
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(9);
    expect(html).toContain("Declination 27.9°");
    for (const caution of CAUTIONS) expect(html).toContain(caution);
  });

  test("the chosen north heads the table and feet are feet", async () => {
    const text = legTableText(await sampleTable({ north: "grid", lengthUnit: "imperial" }));
    expect(text).toContain("Grid bearing");
    expect(text).toMatch(/ 2625 ft /); // 800 m / 0.3048
    expect(text).toMatch(/ 131 ft /); // 40 m climbed
  });

  describe("in the compass's own terms", () => {
    const headings = async (change: Parameters<typeof sampleTable>[0]): Promise<string> => {
      const lines = legTableText(await sampleTable(change)).split("\n");
      return lines.find((line) => line.startsWith("Leg ")) ?? "";
    };
    const rows = (text: string): string[] => text.split("\n").filter((line) => /^\d {2}\S → \S/.test(line));
    const plain = { unit: "degrees", graduationDeg: 1, adjustable: false } as const;

    test("what is dialled stands beside what is read off the map", async () => {
      expect(await headings({})).toMatch(/Magnetic bearing {2}Back {2}Grid/);
      expect(await headings({ north: "grid" })).toMatch(/Grid bearing {2}Magnetic, to set {2}Back/);
      expect(await headings({ north: "true" })).toMatch(/True bearing {2}Magnetic, to set {2}Back/);
      const adjustable = { ...plain, adjustable: true };
      expect(await headings({ compass: adjustable })).toMatch(/Magnetic bearing {2}True, to set {2}Back/);
      expect(await headings({ north: "true", compass: adjustable })).toMatch(
        /True bearing {2}Back {2}Magnetic/,
      );
      expect(await headings({ north: "grid", compass: adjustable })).toMatch(
        /Grid bearing {2}Back {2}Magnetic/,
      );
    });

    test("on paper the bearing to dial is the large one, and no bearing is torn", async () => {
      const html = legTableHtml(
        await sampleTable({ north: "grid", compass: { ...plain, unit: "quadrant" } }),
      );
      expect(html.match(/<td class="other dial">S\u00a062°\u00a0E</g)).toHaveLength(1);
      expect(html).not.toMatch(/class="bearing dial"/);
      expect(legTableHtml(await sampleTable())).toContain('<td class="bearing dial">118°</td>');
    });

    test("the way back is 180° from what is dialled, rounded to the marks", async () => {
      for (const north of ["magnetic", "grid", "true"] as const)
        for (const adjustable of [false, true]) {
          const table = await sampleTable({ north, compass: { ...plain, adjustable } });
          const head = await headings({ north, compass: { ...plain, adjustable } });
          const text = rows(legTableText(table))[0] ?? "";
          const [first, second, third] = Array.from(text.matchAll(/(\d{3})°/g), ([, deg]) => Number(deg));
          const [dialled, back] = head.includes("to set") ? [second, third] : [first, second];
          expect(Math.abs((dialled as number) - (back as number)), head).toBe(180);
        }
    });

    test("in mils and in quadrants, to the compass's marks", async () => {
      // Leg 1 runs due east, 117.86° magnetic: × 6400 / 360 = 2095 mils, S 62° E.
      const mils = legTableText(
        await sampleTable({ compass: { unit: "mils", graduationDeg: 0.5625 * 2, adjustable: false } }),
      );
      expect(rows(mils)[0]).toMatch(/ 2100 +5300 /);
      expect(mils).toMatch(/^Leg +Magnetic mils {2}Back mils {2}Grid mils /m);
      const quadrant = legTableText(
        await sampleTable({ compass: { unit: "quadrant", graduationDeg: 2, adjustable: false } }),
      );
      expect(rows(quadrant)[0]).toMatch(/ S 62° E {2}N 62° W /);
      const twos = legTableText(await sampleTable({ compass: { ...plain, graduationDeg: 5 } }));
      expect(rows(twos)[0]).toMatch(/ 120° {2}300° /);
    });

    // Source: US Army TC 3-25.26, para 6-13: with a westerly angle add from map to compass.
    test("the rule in words for this place, or what to set on an adjustable compass", async () => {
      expect(legTableText(await sampleTable())).toContain(
        "Magnetic north lies 27.9° W of true north; map to compass: add 27.9°, compass to map: subtract 27.9°.",
      );
      // Convergence at 20.45° E, 34.02° S in zone 34 (central meridian 21°): 0.31° E, so 28.2° W of grid north.
      expect(legTableText(await sampleTable({ north: "grid" }))).toMatch(
        /Magnetic north lies 28\.2° W of grid north; map to compass: add 28\.2°/,
      );
      const adjustable = { ...plain, adjustable: true };
      expect(legTableHtml(await sampleTable({ compass: adjustable, north: "true" }))).toContain(
        "Set 27.9°\u00a0W on the compass and dial true bearings.",
      );
      expect(legTableText(await sampleTable({ compass: adjustable, north: "grid" }))).toContain(
        "Set 28.2° W on the compass and dial grid bearings.",
      );
    });
  });

  describe("with the walk's own choices", () => {
    const printed = { valueDeg: -12.5, of: "declination", year: 2005, annualChangeDeg: 8 / 60 } as const;

    test("both declinations, whichever rules", async () => {
      const model = legTableText(
        await sampleTable({ given: { declination: { use: "model", printed, beyondModel: false } } }),
      );
      // −12.5° + 21.45 years × 8′.
      expect(model).toMatch(
        /Declination 27\.9° W ± 0\.6° on 2026-06-15 by WMM2025, .*The map’s margin gives 9\.6° W, 18\.\d° apart\./,
      );
      const margin = legTableText(
        await sampleTable({ given: { declination: { use: "printed", printed, beyondModel: false } } }),
      );
      expect(margin).toMatch(
        /Declination 9\.6° W on 2026-06-15 from the map’s margin \(12\.50° W in 2005\), changing by 0\.13° E a year\. WMM2025 gives 27\.9° W, 18\.\d° apart\./,
      );
      expect(margin).toContain("more than the model’s error");
      expect(margin).toContain("is 21 years old");
    });

    test("a day beyond the model's years is marked where the declination is stated", async () => {
      const table = await sampleTable({
        given: { date: "2033-06-15", declination: { use: "model", printed: null, beyondModel: true } },
      });
      expect(legTableText(table)).toMatch(/by WMM2025, carried on beyond its years, changing/);
      expect(legTableJson(table).legs.every(({ beyondModel }) => beyondModel)).toBe(true);
    });

    test("arrivals take the place of the time so far", async () => {
      const given = { startTime: "08:30", timeZone: "Africa/Johannesburg", backBy: "11:00" };
      const table = await sampleTable({ given });
      const text = legTableText(table);
      expect(text).toMatch(/Distance so far {2}Arrive/);
      expect(text).not.toContain("Time so far");
      const [leg] = table.figures.legs;
      const minutes = 30 + Math.round((leg?.timeS as number) / 60);
      expect(text.split("\n").find((line) => line.startsWith("1 "))).toMatch(
        new RegExp(` 08:${String(minutes).padStart(2, "0")}$`),
      );
      expect(text).toMatch(/Start 08:30, end 09:\d\d, \d h \d\d min before sunset\./);
      // 15 June at 34° S in a zone 2 h ahead.
      expect(text).toMatch(
        /Sunrise 07:4\d, sunset 17:3\d; civil twilight from 07:1\d to 18:0\d \(clock of Africa\/Johannesburg/,
      );
      expect(legTableHtml(table)).toContain(">Arrive</th>");
      expect(await sampleTable().then(legTableText)).toContain("Time so far");
    });

    test("turning back is told with what one is to be back by", async () => {
      const given = { startTime: "08:30", timeZone: "Africa/Johannesburg", backBy: "09:10" };
      const text = legTableText(await sampleTable({ given }));
      expect(text).toMatch(/Turn back the same way by 08:\d\d to be at the start by 09:10\./);
    });

    test("pace counts, rule of time and factors are stated", async () => {
      const text = legTableText(
        await sampleTable({
          given: {
            pacesPer100m: 116,
            upPer100m: 148,
            paceSteps: 1,
            timeMethod: "din33466",
            timeFactors: { party: 1.25, load: 1, surface: 1, breakMinPerHour: 10 },
          },
        }),
      );
      expect(text).toContain("Single paces");
      expect(text).toContain(
        "116 single paces to 100 m of map distance on the flat, 148 going up, 116 going down.",
      );
      expect(text).toContain(
        "Walking time by DIN 33466 (4 km, 300 m up and 500 m down an hour; the larger of the horizontal and the vertical time and half the smaller), times 1.25 for the party, with 10 min of rest an hour.",
      );
      expect(legTableText(await sampleTable())).toContain("an hour more for 600 m of climb), without rests.");
    });

    test("JSON: what was added, beside what there was", async () => {
      const json = legTableJson(
        await sampleTable({
          given: {
            startTime: "08:30",
            timeZone: "Africa/Johannesburg",
            declination: { use: "model", printed, beyondModel: false },
          },
        }),
      );
      expect(json.legs[0]?.arrival).toMatch(/^2026-06-15T08:\d\d:\d\d\+02:00$/);
      expect(json.legs[0]?.rhumbOffsetM).toBeCloseTo(0, 1);
      expect(json.declination).toMatchObject({
        from: "model",
        model: "WMM2025",
        beyondModel: false,
        zone: "ok",
      });
      expect(json.declination.printedDeg).toBeCloseTo(-12.5 + (8 / 60) * 21.45, 2);
      expect(json.declination.differenceDeg).toBeCloseTo(
        (json.declination.printedDeg as number) - (json.declination.deg as number),
        5,
      );
      expect(json).toMatchObject({ start: "2026-06-15T08:30:00+02:00", timeZone: "Africa/Johannesburg" });
      expect(json.daylight).toMatchObject({ dark: false, allDay: null });
      expect(json.turnBackBy).toMatch(/^2026-06-15T/);
      expect(json.notes.join(" ")).not.toContain("no time of setting out");
      const without = legTableJson(await sampleTable());
      expect(without).toMatchObject({ start: null, turnBackBy: null });
      expect(without.notes).toContain("The walk has no time of setting out, so there are no arrivals.");
    });

    test("CSV: arrivals as in the JSON contract", async () => {
      const rows = readCsv(
        legTableCsv(await sampleTable({ given: { startTime: "08:30", timeZone: "Africa/Johannesburg" } })),
      );
      const at = (name: string): string => rows[1]?.[rows[0]?.indexOf(name) ?? -1] ?? "missing";
      expect(at("arrival")).toMatch(/^2026-06-15T08:\d\d:\d\d\+02:00$/);
      expect(at("declinationPrintedDeg")).toBe("");
      expect(Number(at("declinationModelDeg"))).toBeCloseTo(Number(at("declinationDeg")), 4);
    });
  });

  test("a walk without legs says so in every format", async () => {
    const table = await sampleTable({ legs: 0 });
    expect(legTableText(table)).toContain("No legs yet");
    expect(legTableHtml(table)).toContain("No legs yet");
    expect(readCsv(legTableCsv(table))).toHaveLength(1);
    expect(legTableJson(table)).toMatchObject({ legs: [], totals: { distanceM: 0 } });
  });

  test("without a map it says so and leaves dashes, not zeros", async () => {
    const text = legTableText(await sampleTable({ noMap: true }));
    expect(text).toContain("No map: bearings, distances and paces only.");
    expect(text).not.toMatch(/terrain model|Naismith/);
    expect(text.split("\n").find((line) => line.startsWith("1 "))).toMatch(/ – /);
  });
});
