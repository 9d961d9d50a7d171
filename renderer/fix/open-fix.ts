/** Opening and putting away the slip for finding oneself; the keyboard goes back to where it was. */
import { pointLetter } from "../../core/walk/walk.ts";
import { lookAround } from "../find/look-around.ts";
import { shownLeg } from "../walk-state/selection.ts";
import { startBearings } from "./bearing-rows.ts";
import { fixOpen, picking } from "./fix-state.ts";
import { startLegs } from "./walked.ts";

let cameFrom: Element | null = null;

export function openFix(): void {
  if (!fixOpen.peek()) cameFrom = document.activeElement;
  const leg = shownLeg.peek();
  startBearings();
  startLegs(leg === null ? null : [pointLetter(leg), pointLetter(leg + 1)]);
  fixOpen.value = true;
  lookAround();
  // After the menu it was asked from has taken the keyboard back.
  setTimeout(() => document.querySelector<HTMLElement>(".fix-slip input[type=text]")?.focus());
}

/** What was written stays for the next time. */
export function closeFix(): void {
  picking.value = null;
  fixOpen.value = false;
  if (cameFrom instanceof HTMLElement && cameFrom.isConnected && cameFrom !== document.body) cameFrom.focus();
  else document.querySelector<HTMLElement>(".maplibregl-canvas")?.focus();
}
