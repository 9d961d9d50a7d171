/** Why there is no escape bearing, and the best there is, in sentences. */
import type { LengthUnit } from "../../units/format.ts";
import { lengthInNote } from "../leg-words.ts";
import { kindAndName } from "../line-kinds.ts";
import type { BlockedBy, EscapeProblem, EscapeSettings } from "./escape-problem.ts";
import type { Source } from "./escape-lines.ts";

/** Bearings swept in search of the best part. */
const TRIED = 16;

interface Stretch {
  readonly x0: number;
  readonly x1: number;
  readonly by: BlockedBy | null;
}

/** A bearing that serves part of the leg or walk: from where it does not, and why. */
interface Partly {
  readonly bearingDeg: number;
  /** By leg. */
  readonly without: readonly (readonly Stretch[])[];
  readonly withoutM: number;
}

/**
 * @param isWalk one bearing was sought for several legs
 */
export function partlyWords(
  problems: readonly EscapeProblem[],
  isWalk: boolean,
  { escapeReachM, lengthUnit = "metric" }: EscapeSettings & { readonly lengthUnit?: LengthUnit },
): string[] {
  const reach = lengthInNote(escapeReachM, lengthUnit);
  if (problems.every(({ lines }) => lines.ends.count === 0))
    return [`The map shows no road, river or wide track within ${reach}: there is no escape bearing.`];
  const whole = isWalk ? "the walk" : "the leg";
  const none = `No one bearing leads to a road, river or wide track within ${reach} from everywhere on ${whole}`;
  const best = bestPart(problems);
  const lengthM = problems.reduce((sum, { frame }) => sum + frame.lengthM, 0);
  if (!best || best.withoutM >= lengthM - 1) {
    const why = new Set(best?.without.flat().map(({ by }) => by) ?? []);
    const reasons = [...why].filter((by) => by !== null).map((by) => THE[by]);
    return [
      `${none}, nor from any part of it${reasons.length > 0 ? `: ${reasons.join(" or ")} is in the way` : ""}.`,
    ];
  }
  const on = mostMet(problems, best.bearingDeg);
  const start = `${none}. The best, ${best.bearingDeg}° true, ends on the ${on ? kindAndName(on.kind, on.name) : "line"}`;
  if (isWalk) {
    const legs = best.without.flatMap((parts, i) => (parts.length > 0 ? [i + 1] : []));
    return [`${start}, but not from all of ${legs.length === 1 ? "leg" : "legs"} ${legs.join(", ")}.`];
  }
  const parts = (best.without[0] ?? []).map((part) => {
    const why = part.by ? `${THE[part.by]} is in the way` : "none is reached";
    return `${whereWords(part, lengthM, lengthUnit)} ${why}`;
  });
  return [`${start}, but ${parts.slice(0, 3).join(", ")}${parts.length > 3 ? " and so on" : ""}.`];
}

const THE: Record<BlockedBy, string> = { cliff: "a cliff", water: "open water", steep: "steep ground" };

function whereWords({ x0, x1 }: Stretch, lengthM: number, unit: LengthUnit): string {
  if (x0 < 1) return `from the first ${lengthInNote(x1, unit)}`;
  if (x1 > lengthM - 1) return `from the last ${lengthInNote(lengthM - x0, unit)}`;
  return `from ${lengthInNote(x0, unit)} to ${lengthInNote(x1, unit)}`;
}

function bestPart(problems: readonly EscapeProblem[]): Partly | null {
  const order = Array.from({ length: 360 }, (_, b) => ({
    b,
    bad: problems.reduce((sum, { bad }) => sum + (bad[b] as number), 0),
  })).toSorted((a, b) => a.bad - b.bad || a.b - b.b);
  let best: Partly | null = null;
  for (const { b } of order.slice(0, TRIED)) {
    const without = problems.map((problem) => notServed(problem, b));
    const withoutM = without.flat().reduce((sum, { x0, x1 }) => sum + x1 - x0, 0);
    if (!best || withoutM < best.withoutM) best = { bearingDeg: b, without, withoutM };
  }
  return best;
}

/** Where a bearing does not serve, in order, overlapping stretches as one; a danger is named before a mere lack. */
function notServed(problem: EscapeProblem, bearingDeg: number): Stretch[] {
  const { pieces, blocked } = problem.sweep(bearingDeg);
  const raw: Stretch[] = [
    ...blocked,
    ...pieces.filter(({ segment }) => segment < 0).map(({ x0, x1 }) => ({ x0, x1, by: null })),
  ].toSorted((a, b) => a.x0 - b.x0);
  const joined: Stretch[] = [];
  for (const { x0, x1, by } of raw) {
    const last = joined.at(-1);
    if (last && (x0 <= last.x1 + 0.01 || (by === last.by && x0 <= last.x1 + 10)))
      joined[joined.length - 1] = { x0: last.x0, x1: Math.max(x1, last.x1), by: last.by ?? by };
    else joined.push({ x0, x1, by });
  }
  return joined;
}

function mostMet(problems: readonly EscapeProblem[], bearingDeg: number): Source | null {
  const met = new Map<string, { source: Source; lengthM: number }>();
  for (const problem of problems)
    for (const { x0, x1, segment } of problem.sweep(bearingDeg).pieces) {
      if (segment < 0) continue;
      const source = problem.lines.ends.sources[problem.lines.ends.of[segment] as number] as Source;
      const key = `${source.kind} ${source.name}`;
      met.set(key, { source, lengthM: (met.get(key)?.lengthM ?? 0) + x1 - x0 });
    }
  return [...met.values()].toSorted((a, b) => b.lengthM - a.lengthM)[0]?.source ?? null;
}
