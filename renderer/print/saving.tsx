/** Pages written to a file or sent to a printer: what is being done, what was done, and what went wrong. */
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { Fault } from "../../core/fault.ts";
import type { PageFileKind } from "../../electron/contract.ts";
import { hostInfo } from "../app/host-info.ts";
import { fileNameFrom, saveSomewhere } from "../app/save-choice.ts";
import { host } from "../host/host.ts";
import { printWords } from "../words/print-words.ts";
import type { PagesInStep } from "./pages-in-step.ts";

const { save } = printWords;

export interface Saving {
  readonly said: string | null;
  readonly fault: Fault | null;
  readonly busy: boolean;
  /** One piece of work at a time. @param work gives what to say when it is done; null when it was given up */
  readonly run: (work: () => Promise<string | null>) => Promise<void>;
}

export function useSaving(): Saving {
  const [said, setSaid] = useState<string | null>(null);
  const [fault, setFault] = useState<Fault | null>(null);
  const [busy, setBusy] = useState(false);
  const run = async (work: () => Promise<string | null>): Promise<void> => {
    if (busy) return;
    setBusy(true);
    setFault(null);
    setSaid(save.working);
    try {
      setSaid(await work());
    } catch (thrown) {
      setSaid(null);
      const met = Fault.from(thrown);
      if (met.code !== "cancelled") setFault(met);
    } finally {
      setBusy(false);
    }
  };
  return { said, fault, busy, run };
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
export function SavingFoot({ saving: { said, fault }, test, children }: FootProps) {
  return (
    <div class="dialog-buttons print-foot">
      <p role="status" data-test={`${test}-said`}>
        {said ?? ""}
      </p>
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
      <button
        type="button"
        class="button edged"
        disabled={off}
        data-test="save-svg"
        onClick={() => use((one) => pagesToFile(one, "svg", name, save.svgTitle))}
      >
        {save.svg}
      </button>
      {hasPrinter() && (
        <button
          type="button"
          class="button edged"
          disabled={off}
          data-test="to-printer"
          onClick={() => use(pagesToPrinter)}
        >
          {save.print}
        </button>
      )}
      <button
        type="button"
        class="button strong"
        disabled={off}
        data-test="save-pdf"
        onClick={() => use((one) => pagesToFile(one, "pdf", name, save.pdfTitle))}
      >
        {save.pdf}
      </button>
    </SavingFoot>
  );
}
