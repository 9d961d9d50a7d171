import { Fault } from "../../../core/fault.ts";
import type { RememberedRoles } from "../../../core/map/set-roles.ts";
import type { FileHandle, HostApi, Settings } from "../../contract.ts";
import { saveAll, saveAtomically } from "../atomic-save.ts";
import { type FileChooser, withEnding } from "../file-chooser.ts";
import { suggestName } from "../file-name.ts";
import type { FoundMap } from "../map-case.ts";
import type { PagePrinter } from "./page-printer.ts";
import { openPress } from "./press.ts";
import { SheetOrders } from "./sheet-orders.ts";
import { numberedNames } from "./numbered-names.ts";

export interface SheetDeps {
  readonly settings: () => Settings;
  readonly findMap: (id: string) => Promise<FoundMap>;
  readonly mapRoles: () => readonly RememberedRoles[];
  readonly chooser: FileChooser;
  /** Null where the host has no printer dialog of its own. */
  readonly printer: PagePrinter | null;
}

export type SheetCalls = Pick<
  HostApi,
  "startSheets" | "sheetsState" | "cancelSheets" | "sheetsPage" | "saveSheets" | "printSheets"
>;

/** The calls of the print screen. Pages are drawn on a thread of their own. */
export function sheetCalls({ settings, findMap, mapRoles, chooser, printer }: SheetDeps): {
  readonly calls: SheetCalls;
  close(): Promise<void>;
} {
  const press = openPress();
  const orders = new SheetOrders({ press, settings, findMap, mapRoles });

  async function saveSvgs(
    key: string,
    suggested: string,
    choice: Parameters<HostApi["saveSheets"]>[3],
  ): Promise<FileHandle | null> {
    const place = await chooser.toSave("svg", suggested, choice);
    if (!place) return null;
    const svgs = await press.ask("svgs", [key]);
    const paths = numberedNames(place.path, svgs.length);
    await saveAll(
      svgs.map((content, i) => ({ path: paths[i] as string, content })),
      // The person was asked about the name they gave, not about the numbered ones.
      { replace: place.replace && svgs.length === 1 ? true : (choice?.replace ?? false) },
    );
    return handleOf(paths[0] as string);
  }

  const calls: SheetCalls = {
    startSheets: (order) => orders.start(order),
    sheetsState: (key) => orders.state(key),
    cancelSheets: async (key) => orders.cancel(key),
    async sheetsPage(key, page) {
      await orders.ready(key);
      return await press.ask("page", [key, page]);
    },
    async saveSheets(key, kind, suggestedName, choice) {
      await orders.ready(key);
      const suggested = withEnding(suggestName(suggestedName), kind);
      if (kind === "svg") return await saveSvgs(key, suggested, choice);
      const place = await chooser.toSave("pdf", suggested, choice);
      if (!place) return null;
      await saveAtomically(place.path, await press.ask("pdf", [key]), { replace: place.replace });
      return handleOf(place.path);
    },
    async printSheets(key) {
      if (!printer)
        throw new Fault(
          "unavailable",
          "From here nothing is sent to a printer.",
          null,
          "Save the PDF and print it at 100 % (“actual size”).",
        );
      const { title, pages } = await orders.ready(key);
      const svgs = await press.ask("svgs", [key]);
      await printer.print(
        title,
        pages.map(({ widthMm, heightMm }, i) => ({ widthMm, heightMm, svg: svgs[i] as string })),
      );
    },
  };
  return { calls, close: () => press.close() };
}

const handleOf = (path: string): FileHandle => ({ id: "", name: path.split(/[/\\]/).at(-1) ?? "" });
