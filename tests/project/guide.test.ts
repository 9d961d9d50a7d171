/** The guide's commands, run as they stand in it: what it quotes of their answers is what they say, and its bold figures too. */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, it } from "vitest";
import { driftFigures } from "../../core/travel/drift-trials.ts";
import { calibratePace } from "../../core/travel/pace-calibration.ts";
import { CommandLine } from "../electron/support/command.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));
const guide = readFileSync(`${root}sample-maps/GUIDE.md`, "utf8");
const legwright = new CommandLine();
afterAll(() => legwright.remove());

/** Spaces of every kind, those that keep figure and unit together among them, become plain ones. */
const plain = (text: string): string => text.replace(/[\s\u00a0\u202f]+/g, " ").trim();

/** Arguments of a command as a shell would part them, with the demo map where it lies. */
const argumentsOf = (command: string): string[] =>
  [...command.replace(/\\\n/g, " ").matchAll(/"([^"]*)"|(\S+)/g)]
    .map(([, quoted, bare]) => quoted ?? bare ?? "")
    .map((word) => word.replace(/^sample-maps\//, `${root}sample-maps/`));

interface Example {
  readonly command: string;
  readonly quoted: readonly string[];
}

const sections = guide.split(/^## /m).slice(1);
const examplesOf = (section: string): Example[] =>
  [...section.matchAll(/```sh\nnpm run -s legwright -- ([^`]*)```\n[^`]*```text\n([^`]*)```/g)].map(
    ([, command = "", quoted = ""]) => ({ command, quoted: quoted.trim().split("\n").map(plain) }),
  );

describe.each(sections.map((section) => [section.split("\n")[0] ?? "", section] as const))(
  "%s",
  (_, section) => {
    const examples = examplesOf(section);

    it("has cautions, and every command shows what it answers", () => {
      expect(section).toContain("**Take care.**");
      expect(examples.length).toBe((section.match(/```sh/g) ?? []).length);
    });

    // What is done in the window alone has no command: its figures are checked below.
    if (examples.length === 0) return;
    it("says what its commands say", { timeout: 60_000 }, () => {
      const said = examples.map(({ command }) => plain(legwright.says(argumentsOf(command))));
      examples.forEach(({ quoted }, i) =>
        expect(quoted.filter((line) => !said[i]?.includes(line))).toEqual([]),
      );
      const bold = [...section.matchAll(/\*\*([^*]*\d[^*]*)\*\*/g)].map(([, text = ""]) => plain(text));
      expect(bold.filter((figure) => !said.some((text) => text.includes(figure)))).toEqual([]);
    });
  },
);

it("the trials' figures are those of the program, and of plain arithmetic", () => {
  const counts = [64, 66, 65, 67];
  const { per100m, spreadPer100m, error } = calibratePace(counts.map((paces) => ({ distanceM: 100, paces })));
  // By hand: mean 65.5; deviations −1.5, 0.5, −0.5, 1.5, squares 5 over 3.
  expect(per100m).toBeCloseTo(65.5, 9);
  expect(spreadPer100m).toBeCloseTo(Math.sqrt(5 / 3), 9);
  expect(error).toBeCloseTo(Math.sqrt(5 / 3) / 65.5, 9);
  const { biasDeg, spreadDeg } = driftFigures(
    [3, 4, 2, 5, -1].map((asideM) => ({ steering: "unaided", distanceM: 100, asideM })),
  );
  // By hand: arctangents 1.718, 2.291, 1.146, 2.862, −0.573°: mean 1.489°, standard deviation 1.317°.
  expect(biasDeg).toBeCloseTo(1.489, 2);
  expect(spreadDeg).toBeCloseTo(1.317, 2);
  for (const figure of ["65.5 paces", "**1.3**", "**2.0 %**", "**1.5° to the right**", "**1.3°**"])
    expect(guide).toContain(figure);
});
