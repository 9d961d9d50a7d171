/** Practice on paper and on small ground, as a person asks for it on the command line. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, it } from "vitest";
import { pdfLines, readPdfPages } from "../support/pdf-reader.ts";
import { CommandLine } from "./support/command.ts";

const legwright = new CommandLine();
afterAll(() => legwright.remove());

const MAP = fileURLToPath(new URL("../../sample-maps/uldermoor.pmtiles", import.meta.url));
const FIELD = ["field-course", "--length", "100m", "--width", "60m", "--along", "40", "--seed", "1"];
const DRILL = ["drill", "--map", MAP, "--at", "46.334 -133.195", "--radius", "1.5km", "--date", "2026-06-01"];

describe("score", () => {
  // Plane trigonometry by hand: atan(2 / 53) = 2.161°; √(53² + 2²) = 53.0377, 6.075 % over 50; √(3² + 2²) = 3.606, 7.21 %.
  it("turns an error along and aside into degrees and percent", () => {
    const said = legwright.says([
      "score",
      "--bearing",
      "120",
      "--length",
      "50m",
      "--beyond",
      "3m",
      "--right",
      "2m",
    ]);
    expect(said).toMatch(/Miss +3\.6 m \(7\.2 % of the leg\): 3\.0 m beyond, 2\.0 m right/);
    expect(said).toMatch(/Bearing +walked 122\.2°: 2\.2° to the right/);
    expect(said).toMatch(/Distance +6\.1 % too far/);
  });

  it("refuses an error told twice, or not at all", () => {
    const leg = ["score", "--bearing", "120", "--length", "50m"];
    for (const wrong of [[], ["--beyond", "1m", "--short", "1m"], ["--left", "1m", "--miss", "200 2m"]])
      expect(legwright.run([...leg, ...wrong])).toMatchObject({
        code: 1,
        stderr: expect.stringMatching(/Write --beyond/),
      });
  });
});

describe("field-course", () => {
  interface Told {
    readonly legs: readonly { readonly bearingDeg: number; readonly lengthM: number }[];
    readonly closing: { readonly distanceM: number };
    readonly places?: readonly { readonly alongM: number; readonly acrossM: number }[];
  }

  it("gives setter and learner the same legs, and the learner no stakes", () => {
    const setter = JSON.parse(legwright.says([...FIELD, "--format", "json"])) as Told;
    const learner = JSON.parse(legwright.says([...FIELD, "--learner", "--format", "json"])) as Told;
    expect(learner.legs).toEqual(setter.legs);
    expect(learner.places).toBeUndefined();
    const rad = Math.PI / 180;
    const east = setter.legs.reduce((sum, leg) => sum + leg.lengthM * Math.sin(leg.bearingDeg * rad), 0);
    const north = setter.legs.reduce((sum, leg) => sum + leg.lengthM * Math.cos(leg.bearingDeg * rad), 0);
    expect(setter.closing.distanceM).toBeCloseTo(Math.sqrt(east * east + north * north), 6);
    const text = legwright.says([...FIELD, "--learner"]);
    expect(text).not.toMatch(/\bring\b|corner|stake 2/i);
    expect(legwright.says(FIELD)).toMatch(/Caution +Goalposts/);
  });

  it("says what is too much for the ground", () => {
    const { code, stderr } = legwright.run([...FIELD, "--leg", "90m-95m"]);
    expect(code).toBe(1);
    expect(stderr).toMatch(/were not fitted on 100 m by 60 m.+fewer or shorter/);
  });
});

describe("drill", () => {
  it("asks without answers, and answers the same questions when told to", () => {
    const asked = [
      "--kinds",
      "bearing,norths,aim-off",
      "--questions",
      "6",
      "--seed",
      "5",
      "--scale",
      "25000",
    ];
    const learner = legwright.says([...DRILL, ...asked]);
    const setter = legwright.says([...DRILL, ...asked, "--answers"]);
    const questions = (text: string): string[] => text.match(/^Question .+$/gm) ?? [];
    expect(questions(learner)).toHaveLength(6);
    expect(questions(setter)).toEqual(questions(learner));
    expect(learner).not.toMatch(/Mark|Right within|Only this/);
    expect(setter).toMatch(/Mark 1A/);
    expect(setter).toMatch(/Invented map/);
  });

  it("prints the sheet with its map, and the key after it", () => {
    const asked = [...DRILL, "--kinds", "bearing,back", "--questions", "2", "--level", "hard", "--answers"];
    legwright.says([...asked, "--paper", "letter", "--out", join(legwright.folder, "practice.pdf")]);
    const pages = readPdfPages(readFileSync(join(legwright.folder, "practice.pdf")));
    const text = pages.flatMap(pdfLines).join(" ");
    expect(pages[0]?.mediaBox).toEqual([0, 0, 612, 792]);
    expect(pages[0]?.paths.filter(({ groups }) => groups.includes("marks"))).toHaveLength(1);
    expect(text).toMatch(
      /Worksheet .+ Measure the grid bearing from 1A to 1B.+ Right within 1°.+ Key to the worksheet/,
    );
    const { code, stderr } = legwright.run([
      ...asked,
      "--format",
      "json",
      "--out",
      join(legwright.folder, "x.pdf"),
    ]);
    expect([code, stderr]).toEqual([1, expect.stringMatching(/A PDF has no other form/)]);
  });

  it("names the kinds there are for one there is not", () => {
    const { code, stderr } = legwright.run([...DRILL, "--kinds", "guess"]);
    expect(code).toBe(1);
    expect(stderr).toMatch(/no kind of question called “guess”.+aim-off, handrail/);
  });
});
