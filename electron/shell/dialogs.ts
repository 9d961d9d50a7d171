import { type BrowserWindow, dialog, type FileFilter } from "electron";
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { DATA_ENDINGS, type FileChooser, type FileKind, withEnding } from "../services/file-chooser.ts";

const FILTERS: Readonly<Record<FileKind, FileFilter>> = {
  walk: { name: "Walks and GeoJSON", extensions: ["geojson", "json"] },
  map: { name: "Map archives", extensions: [...DATA_ENDINGS.map] },
  pdf: { name: "PDF", extensions: ["pdf"] },
  svg: { name: "SVG", extensions: ["svg"] },
  csv: { name: "Table (CSV)", extensions: ["csv"] },
  tsv: { name: "Table (TSV)", extensions: ["tsv"] },
  txt: { name: "Text", extensions: ["txt"] },
  gpx: { name: "GPX", extensions: ["gpx"] },
  kml: { name: "KML", extensions: ["kml"] },
  kmz: { name: "KMZ", extensions: ["kmz"] },
  html: { name: "Web page", extensions: ["html"] },
  geojson: { name: "GeoJSON", extensions: ["geojson"] },
};

const DATA_FILTERS = {
  elevation: { name: "Elevation models", extensions: [...DATA_ENDINGS.elevation] },
  features: { name: "Files of features", extensions: [...DATA_ENDINGS.features] },
};

/** Files chosen in the system's own dialogs, which start in the person's folder and ask before replacing. */
export function nativeDialogs(folder: string, window: () => BrowserWindow | null): FileChooser {
  const start = async (): Promise<string> => {
    await mkdir(folder, { recursive: true }).catch(() => undefined);
    return folder;
  };
  return {
    async toOpen(kind) {
      const options = {
        defaultPath: await start(),
        properties: ["openFile" as const],
        filters: [FILTERS[kind]],
      };
      const parent = window();
      const { canceled, filePaths } = await (parent
        ? dialog.showOpenDialog(parent, options)
        : dialog.showOpenDialog(options));
      return canceled ? null : (filePaths[0] ?? null);
    },
    async toSave(kind, suggestedName) {
      const options = { defaultPath: join(await start(), suggestedName), filters: [FILTERS[kind]] };
      const parent = window();
      const { canceled, filePath } = await (parent
        ? dialog.showSaveDialog(parent, options)
        : dialog.showSaveDialog(options));
      if (canceled || !filePath) return null;
      // The dialog asked about the name as typed; one completed here was never asked about.
      const path =
        kind === "walk" && /\.json$/i.test(filePath)
          ? filePath
          : withEnding(filePath, kind === "walk" && /\.geojson$/i.test(filePath) ? "geojson" : kind);
      return { path, replace: path === filePath };
    },
    async toOpenMany(kind) {
      const options = {
        defaultPath: await start(),
        properties: ["openFile" as const, "multiSelections" as const],
        filters: [DATA_FILTERS[kind]],
      };
      const parent = window();
      const { canceled, filePaths } = await (parent
        ? dialog.showOpenDialog(parent, options)
        : dialog.showOpenDialog(options));
      return canceled ? [] : filePaths;
    },
    dataNames: async () => [],
    walkNames: async () => [],
  };
}
