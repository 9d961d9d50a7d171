/** Pages on a screen, drawn by the host and kept in step with what is chosen. */
import { effect, type Signal, signal, untracked } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import type { SheetOrder } from "../../electron/contract.ts";
import { type DrawnPages, drawPages } from "./draw-pages.ts";

export type Pages =
  | { readonly kind: "none" }
  | { readonly kind: "making"; readonly done: number; readonly all: number }
  | { readonly kind: "stopped" }
  | { readonly kind: "failed"; readonly fault: Fault }
  | ({ readonly kind: "ready" } & DrawnPages);

export interface PagesInStep {
  readonly pages: Signal<Pages>;
  /** The set on screen, which stays there while the next is drawn. */
  readonly shown: Signal<DrawnPages | null>;
  /** Draws anew whenever something changes. @returns stops following, and what is being drawn */
  readonly follow: () => () => void;
  /** Gives up what is being drawn. */
  readonly stop: () => void;
  readonly again: () => void;
}

/** A person who clicks through choices is not followed step by step. */
const CALM_MS = 200;

/** @param orderOf reads the signals the pages depend on; null when there is nothing to draw */
export function pagesInStep(orderOf: () => SheetOrder | null): PagesInStep {
  const pages = signal<Pages>({ kind: "none" });
  const shown = signal<DrawnPages | null>(null);
  let drawing: AbortController | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const give = (then: "stopped" | "none"): void => {
    clearTimeout(timer);
    drawing?.abort();
    drawing = null;
    if (pages.peek().kind === "making") pages.value = { kind: then };
  };

  async function make(order: SheetOrder | null): Promise<void> {
    drawing?.abort();
    const mine = (drawing = new AbortController());
    if (!order) {
      shown.value = null;
      pages.value = { kind: "none" };
      return;
    }
    pages.value = { kind: "making", done: 0, all: 1 };
    try {
      const drawn = await drawPages(order, {
        signal: mine.signal,
        told: (done, all) => {
          if (!mine.signal.aborted) pages.value = { kind: "making", done, all };
        },
      });
      if (mine.signal.aborted) return;
      shown.value = drawn;
      pages.value = { kind: "ready", ...drawn };
    } catch (thrown) {
      if (mine.signal.aborted) return;
      shown.value = null;
      pages.value = { kind: "failed", fault: Fault.from(thrown) };
    }
  }

  function follow(): () => void {
    const end = effect(() => {
      const order = orderOf();
      // From now on the pages on screen are those of before: they can be looked at, not saved.
      give("none");
      pages.value = order ? { kind: "making", done: 0, all: 1 } : { kind: "none" };
      timer = setTimeout(() => void make(order), CALM_MS);
    });
    return () => {
      end();
      give("none");
    };
  }

  return {
    pages,
    shown,
    follow,
    stop: () => give("stopped"),
    again: () => void make(untracked(orderOf)),
  };
}
