/**
 * Rules that say what a feature is on the map, as a person writes them in a JSON file:
 *
 *     { "rules": [ { "when": { "highway": ["path", "footway"], "foot": { "not": ["no"] } },
 *                    "geometry": "line", "role": "path", "minZoom": 11 } ] }
 *
 * They are tried from the top, a person's before the built-in ones. A feature takes each role once, by the first rule
 * that gives it; a rule whose role is null leaves the feature off the map. `when` names tags (attributes) and what
 * they must be: a value, one of several, "*" for any but "no", null for absent, { "not": [...] } for absent or none of
 * these, { "least": n, "below": n } for numbers. The pseudo-tags "@file" and "@layer" are the file's name with and
 * without its ending.
 */
import * as v from "valibot";
import { Fault } from "../../fault.ts";
import { ROLES, type Role } from "../../map/kinds.ts";

/** Contours come from the elevation model alone: a second set would cross them. */
export const RULE_ROLES = ROLES.filter((role) => role !== "contour");

export const GEOMETRIES = ["point", "line", "area"] as const;
export type GeometryKind = (typeof GEOMETRIES)[number];

const value = v.union([v.string(), v.number(), v.boolean()]);
const condition = v.union(
  [
    value,
    v.null(),
    v.pipe(v.array(value), v.minLength(1, "The list is empty.")),
    v.strictObject({ not: v.array(value) }),
    v.strictObject({ least: v.optional(v.number()), below: v.optional(v.number()) }),
  ],
  "This is no condition: give a value, a list of values, null, { not: [...] } or { least, below }.",
);
const geometry = v.picklist(GEOMETRIES, `Give one of ${GEOMETRIES.join(", ")}.`);

const rule = v.strictObject({
  when: v.pipe(
    v.record(v.string(), condition),
    v.check((when) => Object.keys(when).length > 0, "A rule needs a condition."),
  ),
  geometry: v.optional(
    v.union([geometry, v.array(geometry)], `Give one of ${GEOMETRIES.join(", ")}, or a list.`),
  ),
  role: v.nullable(v.picklist(RULE_ROLES, `Give a role: one of ${RULE_ROLES.join(", ")}, or null.`)),
  /** Text, or "$tag" for a tag's value; left out, the value of the first tag named in `when`. */
  class: v.optional(v.string()),
  minZoom: v.optional(v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(18))),
  /** Further attributes of the feature on the map. */
  set: v.optional(v.record(v.string(), value)),
  /** An area's or line's name also stands on the map as a name of this class. */
  label: v.optional(v.string()),
  comment: v.optional(v.string()),
});
const file = v.strictObject({ rules: v.array(rule, "“rules” is a list of rules.") });

export type Condition = v.InferOutput<typeof condition>;
export interface Rule {
  readonly when: Readonly<Record<string, Condition>>;
  readonly geometry?: GeometryKind | readonly GeometryKind[] | undefined;
  readonly role: Role | null;
  readonly class?: string | undefined;
  readonly minZoom?: number | undefined;
  readonly set?: Readonly<Record<string, string | number | boolean>> | undefined;
  readonly label?: string | undefined;
}

const MOST_TEXT = 2 ** 22;

/**
 * Rules from the text of a file.
 * @throws Fault "bad-features" naming the rule and its member, "rules.json, rules[3].role"
 */
export function parseRules(text: string, name: string): readonly Rule[] {
  const fail = (what: string, where: string): never => {
    throw new Fault("bad-features", what, where, "Correct the rules; the README shows one.");
  };
  let json: unknown;
  try {
    json =
      text.length > MOST_TEXT ? fail("The file is too big for rules.", name) : (JSON.parse(text) as unknown);
  } catch (error) {
    if (error instanceof Fault) throw error;
    return fail(`The rules are no JSON: ${(error as Error).message.slice(0, 120)}.`, name);
  }
  const result = v.safeParse(file, json);
  if (result.success) return result.output.rules;
  const issue = result.issues[0];
  const where = (issue.path ?? [])
    .map(({ key }) => (typeof key === "number" ? `[${key + 1}]` : `.${String(key)}`))
    .join("")
    .replace(/^\./, "");
  const unknownKey = issue.expected === "never";
  const what = unknownKey
    ? `There is nothing called ${issue.path?.at(-1) ? `“${String(issue.path.at(-1)?.key)}”` : "so"} here.`
    : issue.type === "strict_object" && issue.received === "undefined"
      ? "This is missing."
      : issue.message;
  return fail(what, where === "" ? name : `${name}, ${where}`);
}
