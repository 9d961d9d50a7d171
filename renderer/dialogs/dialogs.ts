/** Dialogs that wait for an answer. They may stand on one another: a question over a file's name. */
import { signal } from "@preact/signals";
import type { FoundDraft, OpenChoice } from "../../electron/contract.ts";
import type { PickedFromPage } from "../map-case/pick-files-dialog.tsx";

export interface QuestionButton {
  readonly id: string;
  readonly label: string;
  readonly strong?: boolean;
}

interface Answers {
  "open-walk": OpenChoice;
  "save-name": string;
  question: string;
  print: true;
  waiting: { readonly found: unknown };
  maps: true;
  "make-map": true;
  "pick-files": PickedFromPage;
  roles: true;
  import: true;
  export: true;
  sums: true;
  drills: true;
  "small-ground": true;
  scoring: true;
  "course-sheets": true;
  settings: true;
  cautions: true;
  about: true;
  recovery: true;
  versions: true;
}

interface Asked {
  "open-walk": { readonly names: readonly string[]; readonly folder: string };
  "save-name": { readonly title: string; readonly suggested: string; readonly folder: string };
  question: { readonly title: string; readonly text: string; readonly buttons: readonly QuestionButton[] };
  print: null;
  /** Long work: told after each part, given up when the person goes on without it. */
  waiting: {
    readonly title: string;
    readonly text: (done: number, all: number) => string;
    readonly without: string;
    readonly run: (told: (done: number, all: number) => void, stop: AbortSignal) => Promise<unknown>;
  };
  maps: null;
  "make-map": null;
  "pick-files": { readonly title: string; readonly names: readonly string[]; readonly folder: string };
  roles: null;
  import: null;
  export: null;
  sums: null;
  drills: null;
  "small-ground": null;
  scoring: null;
  "course-sheets": null;
  settings: null;
  cautions: null;
  about: null;
  recovery: { readonly drafts: readonly FoundDraft[] };
  versions: null;
}

export type DialogKind = keyof Asked;

export type OpenDialog = {
  [K in DialogKind]: {
    readonly id: number;
    readonly kind: K;
    readonly asked: Asked[K];
    /** Null: put away without an answer. */
    readonly answer: (answer: Answers[K] | null) => void;
  };
}[DialogKind];

export const openDialogs = signal<readonly OpenDialog[]>([]);

let lastId = 0;

/** Shows a dialog. @returns the answer; null when it was put away without one */
export function ask<K extends DialogKind>(kind: K, asked: Asked[K]): Promise<Answers[K] | null> {
  return new Promise((resolve) => {
    const id = ++lastId;
    const answer = (value: Answers[K] | null): void => {
      openDialogs.value = openDialogs.value.filter((dialog) => dialog.id !== id);
      resolve(value);
    };
    // One of the kinds with its own question by construction.
    openDialogs.value = [...openDialogs.value, { id, kind, asked, answer } as unknown as OpenDialog];
  });
}
