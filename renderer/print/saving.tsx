/** Pages written to a file or sent to a printer: what is being done, what was done, and what went wrong. */
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { Fault } from "../../core/fault.ts";
import type { PageFileKind, SheetOrder } from "../../electron/contract.ts";
import { hostInfo } from "../app/host-info.ts";
import { fileNameFrom, saveSomewhere } from "../app/save-choice.ts";
import { host } from "../host/host.ts";
import { printWords } from "../words/print-words.ts";
import { type DrawnPages, drawPages } from "./draw-pages.ts";
import type { PagesInStep } from "./pages-in-step.ts";

const { save } = printWords;

export interface Saving {
  readonly said: string | null;
  readonly fault: Fault | null;
  readonly busy: boolean;
  /** Gives up the pages that are being drawn for it; null while none are. */
  readonly stop: (() => void) | null;
  /** One piece of work at a time. @param work gives what to say when it is done; null when it was given up */
  readonly run: (work: (how: Drawing) => Promise<string | null>) => Promise<void>;
}

/** How pages are drawn for a piece of work: what they are drawn with, and what they tell. */
export interface Drawing {
  /** Draws them where a person can see how far they are, and stop. */
  readonly draw: (order: SheetOrder) => Promise<DrawnPages>;
}

export function useSaving(): Saving {
  const [said, setSaid] = useState<string | null>(null);
  const [fault, setFault] = useState<Fault | null>(null);
  const [busy, setBusy] = useState(false);
  const [drawing, setDrawing] = useState<AbortController | null>(null);
  const draw: Drawing["draw"] = async (order) => {
    const stop = new AbortController();
    setDrawing(stop);
    try {
      const told = (done: number, all: number): void =>
        setSaid(all > 1 ? printWords.pages.makingOf(done, all) : printWords.pages.making);
      const drawn = await drawPages(order, { signal: stop.signal, told });
      setSaid(save.working);
      return drawn;
    } finally {
      setDrawing(null);
    }
  };
  const run: Saving["run"] = async (work) => {
    if (busy) return;
    setBusy(true);
    setFault(null);
    setSaid(save.working);
    try {
      setSaid(await work({ draw }));
    } catch (thrown) {
      setSaid(null);
      const met = Fault.from(thrown);
      if (met.code !== "cancelled") setFault(met);
    } finally {
      setBusy(false);
    }
  };
  return { said, fault, busy, stop: drawing && (() => drawing.abort()), run };
}

/** @param name of the file, without its ending. @returns what to say; null when no file was chosen */
export async function pagesToFile(
  key: string,
  kind: PageFileKind,
  name: string,
  title: string,
): Promise<string | null> {
  const file = fileNameFrom(name, `.${kind}`);
  const handle = await saveSomewhere(title, file, (choice) => host.saveSheets(key, kind, file, choice));
  return handle && save.done(handle.name);
}

export async function pagesToPrinter(key: string): Promise<string> {
  await host.printSheets(key);
  return save.printed;
}

export const hasPrinter = (): boolean => hostInfo.value?.host === "electron";

interface FootProps {
  readonly saving: Saving;
  readonly test: string;
  readonly children: ComponentChildren;
}

/** What was done, and the buttons. */
export function SavingFoot({ saving: { said, fault, stop }, test, children }: FootProps) {
  return (
    <div class="dialog-buttons print-foot">
      <p role="status" data-test={`${test}-said`}>
        {said ?? ""}
      </p>
      {stop && (
        <button type="button" class="button edged small" data-test={`${test}-stop`} onClick={stop}>
          {printWords.pages.stop}
        </button>
      )}
      {fault && (
        <p class="choice-fault" role="alert" data-test={`${test}-fault`}>
          {fault.message}
        </p>
      )}
      <span class="spread" />
      {children}
    </div>
  );
}

interface PagesButtonProps {
  /** The one most people are here for. */
  readonly strong?: boolean;
  readonly off: boolean;
  readonly test: string;
  readonly run: () => void;
  readonly children: ComponentChildren;
}

/** Does something with the pages, unless there are none or something is being done already. */
export function PagesButton({ strong = false, off, test, run, children }: PagesButtonProps) {
  return (
    <button
      type="button"
      class={`button ${strong ? "strong" : "edged"}`}
      disabled={off}
      data-test={test}
      onClick={run}
    >
      {children}
    </button>
  );
}

interface PagesFootProps {
  readonly of: PagesInStep;
  /** Of the file, without its ending. */
  readonly name: string;
  readonly close: string;
  readonly away: () => void;
}

/** Of a screen whose pages are all saved or printed together. */
export function PagesFoot({ of, name, close, away }: PagesFootProps) {
  const saving = useSaving();
  const now = of.pages.value;
  const key = now.kind === "ready" && now.set.pages.length > 0 ? now.key : null;
  const off = key === null || saving.busy;
  const use = (work: (key: string) => Promise<string | null>): void => {
    if (key !== null) void saving.run(() => work(key));
  };
  return (
    <SavingFoot saving={saving} test="print">
      <button type="button" class="button" data-test="print-close" onClick={away}>
        {close}
      </button>
      <PagesButton
        off={off}
        test="save-svg"
        run={() => use((one) => pagesToFile(one, "svg", name, save.svgTitle))}
      >
        {save.svg}
      </PagesButton>
      {hasPrinter() && (
        <PagesButton off={off} test="to-printer" run={() => use(pagesToPrinter)}>
          {save.print}
        </PagesButton>
      )}
      <PagesButton
        strong
        off={off}
        test="save-pdf"
        run={() => use((one) => pagesToFile(one, "pdf", name, save.pdfTitle))}
      >
        {save.pdf}
      </PagesButton>
    </SavingFoot>
  );
}
