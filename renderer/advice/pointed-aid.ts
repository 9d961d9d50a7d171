/** The aid of the leg on the slip that a sentence, or the pointer on the map, points at: shown stronger on the map. */
import { signal } from "@preact/signals";

export type AidKind =
  | "follow"
  | "stop"
  | "second"
  | "hazard"
  | "attack"
  | "proposal"
  | "aim"
  | "cloud"
  | "route"
  | "escape";

export interface PointedAid {
  readonly kind: AidKind;
  /** Which of its kind, from 0; 0 where there is one. */
  readonly at: number;
}

export const pointedAid = signal<PointedAid | null>(null);

export const isPointed = (kind: AidKind, at = 0): boolean =>
  pointedAid.value?.kind === kind && pointedAid.value.at === at;

/** What makes a sentence point at the map: by pointer and by keyboard alike. */
export const pointing = (kind: AidKind, at = 0) => {
  const on = (): void => void (pointedAid.value = { kind, at });
  const off = (): void => {
    if (isPointed(kind, at)) pointedAid.value = null;
  };
  return { onPointerEnter: on, onPointerLeave: off, onFocusIn: on, onFocusOut: off };
};
