/** `--features`, `--rules` and `--derive` of make-map: files, rules and what to say of them. */
import { basename } from "node:path";
import { Fault } from "../../core/fault.ts";
import type { Derive } from "../../core/mapmaking/derived-features.ts";
import type { FeaturesReport, Listed } from "../../core/mapmaking/features-in/read-features.ts";
import { parseRules, type Rule } from "../../core/mapmaking/features-in/rule-schema.ts";
import { readInputText } from "./read-input.ts";

/** @throws Fault "bad-features" naming the rule */
export const readRules = async (path: string): Promise<readonly Rule[]> =>
  parseRules(await readInputText(path), basename(path));

const DERIVED: Readonly<Record<string, keyof Derive>> = {
  streams: "streams",
  ridges: "ridges",
  "spot-heights": "spotHeights",
  cliffs: "cliffs",
};

/**
 * "streams,cliffs" or "none"; left out, what the features lack is derived.
 * @throws Fault "bad-argument"
 */
export function deriveOf(text: string): Derive {
  const derive: { -readonly [what in keyof Derive]: boolean } = {
    streams: false,
    ridges: false,
    spotHeights: false,
    cliffs: false,
  };
  const parts = text.split(",").map((part) => part.trim().toLowerCase());
  for (const part of parts.length === 1 && parts[0] === "none" ? [] : parts) {
    const what = Object.hasOwn(DERIVED, part) ? DERIVED[part] : undefined;
    if (what === undefined)
      throw new Fault(
        "bad-argument",
        `“${part}” is nothing that can be derived.`,
        "--derive",
        `Give some of ${Object.keys(DERIVED).join(", ")}, separated by commas, or none.`,
      );
    derive[what] = true;
  }
  return derive;
}

/** Kinds of unmapped features told one by one. */
const MOST_TOLD = 40;

/** What became of the features, a line each. */
export function featureWords(report: FeaturesReport): string[] {
  const lines: string[] = [];
  for (const file of report.files) {
    const details = [
      `${file.features} features (${file.format}, ${file.crs}${file.encoding ? `, text ${file.encoding}` : ""})`,
      file.onMap === 0 && "none of them on the map: check the coordinate system and the area",
      file.datumUnknown && "how its datum lies is not known: all of it may be off by hundreds of metres",
      file.incomplete > 0 && `${file.incomplete} not whole in the file`,
      file.noShape > 0 && `${file.noShape} without a shape`,
      file.unknownShape > 0 && `${file.unknownShape} with a shape not known here`,
    ];
    lines.push(`${file.name}: ${details.filter(Boolean).join("; ")}`);
  }
  lines.push(
    `On the map: ${list(Object.entries(report.roles).map(([what, count]) => ({ what, count }))) || "none of them"}`,
  );
  const mended = [
    report.untied > 0 && `${report.untied} areas whose edges crossed were untied`,
    report.lost > 0 && `${report.lost} areas could not be untied and are left out`,
    report.dropped > 0 && `${report.dropped} left out by a rule`,
    report.outside > 0 && `${report.outside} beyond the map`,
    report.tiny > 0 && `${report.tiny} too small to draw`,
  ].filter(Boolean);
  if (mended.length > 0) lines.push(`Besides: ${mended.join("; ")}`);
  if (report.guessed.length > 0) lines.push(`Guessed, to be checked: ${list(report.guessed)}`);
  if (report.unmapped.length > 0) {
    const total = report.unmapped.reduce((sum, { count }) => sum + count, 0);
    lines.push(
      `No rule knows ${total} features; --rules can map them: ${list(report.unmapped.slice(0, MOST_TOLD))}`,
    );
    const rest = report.unmapped.slice(MOST_TOLD);
    if (rest.length > 0)
      lines.push(
        `  and ${rest.reduce((sum, { count }) => sum + count, 0)} features of ${rest.length} more kinds`,
      );
  }
  return lines;
}

const list = (all: readonly Listed[]): string => all.map(({ what, count }) => `${what} ${count}`).join(", ");
