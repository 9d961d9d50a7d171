/** Finds the rules that a feature's tags meet. */
import type { Role } from "../../map/kinds.ts";
import type { Tags } from "./raw-feature.ts";
import type { Condition, GeometryKind, Rule } from "./rule-schema.ts";

export interface Match {
  readonly role: Role;
  readonly rule: Rule;
  readonly class: string | null;
  readonly geometry: GeometryKind;
}

/** Roles of a feature; "dropped" when a rule leaves it off the map, null when no rule knows it. */
export type Matcher = (tags: Tags, kinds: readonly GeometryKind[]) => readonly Match[] | "dropped" | null;

interface Ready {
  readonly rule: Rule;
  readonly order: number;
  readonly tests: readonly (readonly [key: string, test: (value: Tags[string] | undefined) => boolean])[];
  readonly kinds: ReadonlySet<GeometryKind> | null;
  readonly firstKey: string;
}

/** @param rules the first that gives a role wins it */
export function matcher(rules: readonly Rule[]): Matcher {
  const byKey = new Map<string, Ready[]>();
  const always: Ready[] = [];
  rules.forEach((rule, order) => {
    const keys = Object.keys(rule.when);
    const { geometry } = rule;
    const ready: Ready = {
      rule,
      order,
      tests: keys.map((key) => [key, testOf(rule.when[key]!)] as const),
      kinds: geometry === undefined ? null : new Set(typeof geometry === "string" ? [geometry] : geometry),
      firstKey: keys[0]!,
    };
    // Looked up by a tag that must be there, so that a feature meets some of the rules only.
    const key = keys.find((k) => isPresent(rule.when[k]!));
    if (key === undefined) always.push(ready);
    else byKey.set(key, [...(byKey.get(key) ?? []), ready]);
  });

  return (tags, kinds) => {
    let candidates: Ready[] | null = null;
    for (const key in tags) {
      const some = byKey.get(key);
      if (some) candidates = candidates ? [...candidates, ...some] : some;
    }
    if (always.length > 0) candidates = [...(candidates ?? []), ...always];
    if (!candidates) return null;
    const found: Match[] = [];
    const roles = new Set<Role>();
    for (const { rule, tests, kinds: allowed, firstKey } of inOrder(candidates)) {
      const geometry = kinds.find((kind) => allowed === null || allowed.has(kind));
      if (geometry === undefined) continue;
      if (rule.role !== null && roles.has(rule.role)) continue;
      if (!tests.every(([key, test]) => test(tags[key]))) continue;
      if (rule.role === null) return found.length > 0 ? found : "dropped";
      roles.add(rule.role);
      found.push({ role: rule.role, rule, geometry, class: classOf(rule, firstKey, tags) });
    }
    return found.length > 0 ? found : null;
  };
}

const inOrder = (ready: readonly Ready[]): readonly Ready[] =>
  ready.length < 2 ? ready : [...ready].sort((a, b) => a.order - b.order);

function classOf(rule: Rule, firstKey: string, tags: Tags): string | null {
  const from = rule.class ?? (firstKey.startsWith("@") ? null : `$${firstKey}`);
  if (from === null) return null;
  if (!from.startsWith("$")) return from;
  const value = tags[from.slice(1)];
  return value === undefined ? null : String(value);
}

const isPresent = (condition: Condition): boolean =>
  condition !== null && !(typeof condition === "object" && "not" in condition);

function testOf(condition: Condition): (value: Tags[string] | undefined) => boolean {
  if (condition === null) return (value) => value === undefined;
  if (condition === "*") return (value) => value !== undefined && value !== false && value !== "no";
  if (Array.isArray(condition)) {
    const values = new Set(condition.map(String));
    return (value) => value !== undefined && values.has(String(value));
  }
  if (typeof condition !== "object") {
    const wanted = String(condition);
    return (value) => value !== undefined && String(value) === wanted;
  }
  if ("not" in condition) {
    const values = new Set(condition.not.map(String));
    return (value) => value === undefined || !values.has(String(value));
  }
  const { least = -Infinity, below = Infinity } = condition as { least?: number; below?: number };
  return (value) => {
    const number =
      typeof value === "number"
        ? value
        : typeof value === "string" && value.trim() !== ""
          ? Number(value)
          : Number.NaN;
    return number >= least && number < below;
  };
}
