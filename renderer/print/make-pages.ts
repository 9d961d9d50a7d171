/** The pages on the print screen, drawn by the host and kept in step with the walk and what is chosen. */
import { effect, signal } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import { formatWalk } from "../../core/walk/walk-file.ts";
import type { ReadySheets, SheetOrder } from "../../electron/contract.ts";
import { settings } from "../app/settings.ts";
import { host } from "../host/host.ts";
import { openMap } from "../map-case/map-case.ts";
import { walk } from "../walk-state/walk-document.ts";
import { wish } from "./print-state.ts";

export type Pages =
  | { readonly kind: "none" }
  | { readonly kind: "making"; readonly done: number; readonly all: number }
  | { readonly kind: "stopped" }
  | { readonly kind: "failed"; readonly fault: Fault }
  | { readonly kind: "ready"; readonly key: string; readonly set: ReadySheets };

export const pages = signal<Pages>({ kind: "none" });
/** The set on screen, which stays there while the next is drawn. */
export const shownSet = signal<{ readonly key: string; readonly set: ReadySheets } | null>(null);

/** A person who clicks through choices is not followed step by step. */
const CALM_MS = 200;

let turn = 0;
let current: string | null = null;

/** Draws anew whenever something changes. @returns stops following, and what is being drawn */
export function followWish(): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const stop = effect(() => {
    const order: SheetOrder = {
      walk: formatWalk(walk.value),
      mapId: openMap.value?.opened.id ?? null,
      wish: wish.value,
    };
    // Compass, units and aids are read by the host; a change of theirs asks anew.
    const { compass: _compass, lengths: _lengths, lengthUnit: _unit, aids: _aids } = settings.value;
    clearTimeout(timer);
    // From now on the pages on screen are those of before: they can be looked at, not saved.
    stopDrawing("none");
    if (order.wish.parts.length > 0) pages.value = { kind: "making", done: 0, all: 1 };
    timer = setTimeout(() => void make(order), CALM_MS);
  });
  return () => {
    clearTimeout(timer);
    stop();
    stopDrawing("none");
  };
}

/** Gives up what is being drawn. */
export function stopDrawing(then: "stopped" | "none" = "stopped"): void {
  turn++;
  if (pages.peek().kind === "making") {
    pages.value = { kind: then };
    if (current !== null) void host.cancelSheets(current).catch(() => undefined);
  }
}

export function drawAgain(): void {
  void make({
    walk: formatWalk(walk.peek()),
    mapId: openMap.peek()?.opened.id ?? null,
    wish: wish.peek(),
  });
}

async function make(order: SheetOrder): Promise<void> {
  const mine = ++turn;
  if (order.wish.parts.length === 0) {
    shownSet.value = null;
    pages.value = { kind: "none" };
    return;
  }
  pages.value = { kind: "making", done: 0, all: 1 };
  try {
    const key = await host.startSheets(order);
    if (mine !== turn) return void host.cancelSheets(key).catch(() => undefined);
    current = key;
    for (;;) {
      const { done, all, ready } = await host.sheetsState(key);
      if (mine !== turn) return;
      if (ready) {
        shownSet.value = { key, set: ready };
        pages.value = { kind: "ready", key, set: ready };
        return;
      }
      pages.value = { kind: "making", done, all };
    }
  } catch (thrown) {
    if (mine !== turn) return;
    shownSet.value = null;
    pages.value = { kind: "failed", fault: Fault.from(thrown) };
  }
}
