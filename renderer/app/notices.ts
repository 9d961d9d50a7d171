/** Quiet notices: said in a corner and to screen readers, without taking the focus. */
import { signal } from "@preact/signals";
import { Fault, type FaultRecord } from "../../core/fault.ts";

/** What a person can do about it, on a button beside it. */
export interface NoticeAct {
  readonly label: string;
  readonly run: () => unknown;
}

export interface Notice {
  readonly id: number;
  readonly tone: "said" | "fault";
  readonly what: string;
  readonly where: string | null;
  readonly remedy: string | null;
  readonly act: NoticeAct | null;
}

export const notices = signal<readonly Notice[]>([]);

let lastId = 0;
const MOST = 4;
/** Long enough to read twice; a fault, and what asks for something, stays until it is put away. */
const SAID_MS = 7_000;

function put(notice: Omit<Notice, "id">): number {
  const id = ++lastId;
  const same = (other: Notice) => other.what === notice.what && other.where === notice.where;
  notices.value = [...notices.value.filter((other) => !same(other)), { ...notice, id }].slice(-MOST);
  if (notice.tone === "said" && !notice.act) setTimeout(() => dismissNotice(id), SAID_MS);
  return id;
}

/** @returns its id, for who takes it back when it no longer holds */
export function say(what: string, act: NoticeAct | null = null): number {
  return put({ tone: "said", what, where: null, remedy: null, act });
}

/** Shows a failure with what, where and remedy. Cancelling is not a failure. */
export function sayFault(thrown: unknown, act: NoticeAct | null = null): void {
  const { code, what, where, remedy }: FaultRecord = Fault.from(thrown).toRecord();
  if (code !== "cancelled") put({ tone: "fault", what, where, remedy, act });
}

export function dismissNotice(id: number): void {
  notices.value = notices.value.filter((notice) => notice.id !== id);
}
