import type { DataKind, ExportKind, PageFileKind } from "../contract.ts";

export type FileKind = "walk" | "map" | PageFileKind | ExportKind;

/** A place to save to, and whether a file there may be replaced. */
export interface SavePlace {
  readonly path: string;
  readonly replace: boolean;
}

/** How the person says which file: a native dialog, or a bare name chosen on the page. Null when they choose none. */
export interface FileChooser {
  toOpen(kind: "walk" | "map", choice: { readonly name: string } | undefined): Promise<string | null>;
  toSave(
    kind: FileKind,
    suggestedName: string,
    choice: { readonly name: string; readonly replace?: boolean | undefined } | undefined,
  ): Promise<SavePlace | null>;
  /** Files a map is to be made of; in a host without dialogs those named. */
  toOpenMany(kind: DataKind, names: readonly string[] | undefined): Promise<readonly string[]>;
  /** Names of files the page may offer; none with native dialogs. */
  dataNames(kind: DataKind | "map"): Promise<readonly string[]>;
  /** Names of walk files the page may offer; none with native dialogs. */
  walkNames(): Promise<readonly string[]>;
}

export const FILE_ENDINGS: Readonly<Record<FileKind, string>> = {
  walk: ".walk.geojson",
  map: ".pmtiles",
  pdf: ".pdf",
  svg: ".svg",
  csv: ".csv",
  tsv: ".tsv",
  txt: ".txt",
  html: ".html",
  gpx: ".gpx",
  kml: ".kml",
  kmz: ".kmz",
  geojson: ".geojson",
};

/** Endings of files that may be of a kind: what a file is, its first bytes say. */
export const DATA_ENDINGS: Readonly<Record<DataKind | "map", readonly string[]>> = {
  elevation: ["tif", "tiff", "hgt", "asc", "zip"],
  features: [
    "pbf",
    "osm",
    "geojson",
    "geojsonl",
    "geojsons",
    "ndjson",
    "json",
    "shp",
    "zip",
    "gpx",
    "kml",
    "kmz",
  ],
  map: ["pmtiles", "mbtiles"],
};

export const mayBe = (name: string, kind: DataKind | "map"): boolean =>
  DATA_ENDINGS[kind].some((ending) => name.toLowerCase().endsWith(`.${ending}`)) &&
  !/\.(terrain\.pmtiles|walk\.geojson)$/i.test(name);

/** The name with the ending of its kind, once. */
export function withEnding(name: string, kind: FileKind): string {
  const ending = FILE_ENDINGS[kind];
  return name.toLowerCase().endsWith(ending) ? name : name + ending;
}
