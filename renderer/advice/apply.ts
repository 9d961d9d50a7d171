/** Advice taken: each one click, and one step of the walk's history. */
import type { Proposal, RouteAdvice } from "../../core/legs/advice/advice.ts";
import type { AidSettings } from "../../core/legs/advice/aid-settings.ts";
import { insertPoint, setAimOff } from "../../core/walk/edits.ts";
import { pointLabel } from "../../core/walk/walk.ts";
import type { LonLat } from "../../core/units/position.ts";
import { changeSettings, settings } from "../app/settings.ts";
import { pickLeg } from "../walk-state/selection.ts";
import { edit, walk } from "../walk-state/walk-document.ts";
import { adviceWords } from "../words/advice-words.ts";

/** A longer one would not fit a flag. */
const LONGEST_NAME = 24;

/** The words of a place as a point's name: without their article, null when too long for a flag. */
export function nameFrom(words: string): string | null {
  const bare = words.replace(/^(the|a|an) /i, "");
  return bare.length <= LONGEST_NAME ? bare : null;
}

export function chooseAimOff(leg: number, aimOff: boolean): void {
  const { points } = walk.value;
  const from = points[leg];
  if (!from) return;
  const to = pointLabel(walk.value, leg + 1);
  const { steps } = adviceWords;
  edit(aimOff ? steps.aimOff(to) : steps.straight(to), (now) => setAimOff(now, from.id, aimOff));
}

/** A point put into a leg; the slip then shows the leg to it. */
export function goBy(leg: number, lonLat: LonLat, words: string): void {
  edit(adviceWords.steps.goBy(nameFrom(words) ?? words), (now) =>
    insertPoint(now, leg + 1, lonLat, nameFrom(words)),
  );
  pickLeg(leg);
}

export const changeAids = (change: Partial<AidSettings>): void =>
  changeSettings({ aids: { ...settings.value.aids, ...change } });

export function take(proposal: Proposal, leg: number): void {
  switch (proposal.change) {
    case "aimOff":
      chooseAimOff(leg, true);
      return;
    case "attackPoint":
    case "split":
      goBy(leg, proposal.lonLat, proposal.place);
      return;
    case "marks":
    case "handrail":
      changeAids({ steering: "marks" });
  }
}

/** Where a way along lines joins and leaves them: its parts' ends but the last. */
export const joints = ({ parts }: Pick<RouteAdvice, "parts">): readonly LonLat[] =>
  parts.slice(0, -1).map(({ coords }): LonLat => [coords.at(-2) as number, coords.at(-1) as number]);

export function takeRoute(route: RouteAdvice, leg: number): void {
  edit(adviceWords.steps.route(leg + 1), (now) =>
    joints(route).reduce((walkSoFar, at, i) => insertPoint(walkSoFar, leg + 1 + i, at), now),
  );
  pickLeg(leg);
}
