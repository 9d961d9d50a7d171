/** Two blanks for the least and the most of a sum over the course; an empty one is open. */
import { Fault } from "../../core/fault.ts";
import { parseLength } from "../../core/units/length.ts";
import { Entry } from "../settings/entry.tsx";
import { courseWords as words } from "../words/course-words.ts";
import type { Limits } from "./course-choices.ts";

/** Null for an empty blank. @throws Fault "bad-argument" */
function limit(text: string, most: number): number | null {
  if (text.trim() === "") return null;
  const value = Math.round(parseLength(text, "m"));
  if (value >= 0 && value <= most) return value;
  throw new Fault("bad-argument", words.metresFrom(0, most, text.trim()));
}

interface LimitProps {
  readonly of: Limits;
  readonly most: number;
  readonly labels: readonly [least: string, most: string];
  readonly put: (limits: Limits) => void;
  readonly test: string;
}

export function LimitEntries({ of: [least, greatest], most, labels, put, test }: LimitProps) {
  const text = (value: number | null): string => (value === null ? "" : String(value));
  return (
    <>
      <Entry
        label={labels[0]}
        value={text(least)}
        placeholder={words.open}
        take={(typed) => put([limit(typed, most), greatest])}
        test={`${test}-least`}
      />{" "}
      {words.to}{" "}
      <Entry
        label={labels[1]}
        value={text(greatest)}
        placeholder={words.open}
        take={(typed) => put([least, limit(typed, most)])}
        test={`${test}-most`}
      />
    </>
  );
}
