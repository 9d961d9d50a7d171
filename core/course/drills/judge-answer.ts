/** What a learner typed against a question's answer. */
import { parseLength } from "../../units/length.ts";
import type { DrillKind, Question } from "./drill.ts";

export type Judgement =
  | { readonly kind: "right"; readonly off: number | null; readonly unit: "°" | "m" }
  | { readonly kind: "wrong"; readonly off: number | null; readonly unit: "°" | "m" }
  /** Nothing in it that could be an answer. */
  | { readonly kind: "unread" }
  /** Only the learner's own eye can compare it. */
  | { readonly kind: "compare" };

/** A line is named and a profile is drawn: no program tells whether the learner meant the same. */
export const COMPARED: ReadonlySet<DrillKind> = new Set<DrillKind>(["handrail", "profile"]);

const BEARINGS: ReadonlySet<DrillKind> = new Set<DrillKind>(["bearing", "norths", "back", "aimOff"]);

const numbersIn = (text: string): number[] =>
  [...text.replace(/[\s\u00a0\u202f](?=\d{3}\b)/g, "").matchAll(/\d+(?:[.,]\d+)?/g)].map(([figure]) =>
    Number(figure.replace(",", ".")),
  );
const onCircle = (a: number, b: number): number => Math.abs(((((a - b) % 360) + 540) % 360) - 180);

export function judgeAnswer(question: Question, typed: string): Judgement {
  const { kind, answer } = question;
  if (COMPARED.has(kind)) return { kind: "compare" };
  if (typed.trim() === "") return { kind: "unread" };
  if (kind === "landform") return landform(question, typed);
  if (kind === "reference") return reference(answer.text, typed);
  if (kind === "climb") return climb(question, typed);
  const { value, within } = answer;
  const given = kind === "distance" ? metresIn(typed) : (numbersIn(typed)[0] ?? null);
  if (value === null || within === null || given === null) return { kind: "unread" };
  const bearing = BEARINGS.has(kind);
  if (bearing && given > 360) return { kind: "unread" };
  const off = bearing ? onCircle(given, value) : Math.abs(given - value);
  const isNear = off <= within + 1e-9 && (kind !== "aimOff" || turnOf(typed) === turnOf(answer.text));
  return { kind: isNear ? "right" : "wrong", off, unit: bearing ? "°" : "m" };
}

/** The way back along the line; a turn told in one word or letter. */
const turnOf = (text: string): "left" | "right" | null =>
  /\bl(eft)?\b/i.test(text) ? "left" : /\br(ight)?\b/i.test(text) ? "right" : null;

function metresIn(typed: string): number | null {
  try {
    return parseLength(typed, "m");
  } catch {
    return null;
  }
}

/** A word beside it in the list, such as ridge for spur, is named in what is accepted. */
function landform({ answer }: Question, typed: string): Judgement {
  const words = typed.toLowerCase().match(/[a-z]+/g) ?? [];
  if (words.length === 0) return { kind: "unread" };
  const right = [answer.text.replace(/^An? /, ""), ...(answer.accepted.match(/“(\w+)”/)?.slice(1) ?? [])];
  return { kind: words.some((word) => right.includes(word)) ? "right" : "wrong", off: null, unit: "m" };
}

/** Six figures, with or without the letters of the square before them; each half may be one off. */
function reference(text: string, typed: string): Judgement {
  const figures = /(\d{3})\s*(\d{3})\s*$/.exec(typed.trim());
  const right = /^(\d{3}) (\d{3})/.exec(text);
  if (!figures || !right) return { kind: "unread" };
  const offs = [1, 2].map((i) => {
    const off = Math.abs(Number(figures[i]) - Number(right[i]));
    return Math.min(off, 1000 - off);
  });
  return { kind: offs.every((off) => off <= 1) ? "right" : "wrong", off: null, unit: "m" };
}

/** Up and down, in this order; in the unit of the map, as it is asked. */
function climb({ answer }: Question, typed: string): Judgement {
  const [up, down] = numbersIn(typed);
  const [rightUp, rightDown] = numbersIn(answer.text);
  const [interval] = numbersIn(answer.accepted);
  if (up === undefined || down === undefined || rightUp === undefined || rightDown === undefined)
    return { kind: "unread" };
  const off = Math.max(Math.abs(up - rightUp), Math.abs(down - rightDown));
  return { kind: off <= (interval ?? 0) + 1e-9 ? "right" : "wrong", off, unit: "m" };
}
