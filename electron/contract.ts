/**
 * The one place where the window and its host meet. Both hosts (the Electron shell and the local browser host)
 * implement `HostApi`; the window calls nothing else. Plain data only: everything here crosses a process.
 */
import type { CoursePoint, CourseWish } from "../core/course/course.ts";
import type { DrillWish } from "../core/course/drills/drill.ts";
import type { FieldWish } from "../core/course/small-ground.ts";
import type { CoursePart } from "../core/sheet/course/sheet-blocks.ts";
import type { WorksheetPart } from "../core/sheet/worksheet/worksheet-pages.ts";
import type { FaultRecord } from "../core/fault.ts";
import { type AidSettings, USUAL_AIDS } from "../core/legs/advice/aid-settings.ts";
import type { Compass } from "../core/legs/norths/bearing-to-set.ts";
import type { RememberedRoles } from "../core/map/set-roles.ts";
import type { PictureType } from "../core/map/pictures.ts";
import type { Role } from "../core/map/kinds.ts";
import type { PositionNotation } from "../core/geodesy/format-position.ts";
import type { DriftTrial } from "../core/travel/drift-trials.ts";
import type { PaceGround, PaceTrial } from "../core/travel/pace-calibration.ts";
import { type PrintWish, USUAL_WISH } from "../core/sheet/sheet-job.ts";
import type { LengthUnitName } from "../core/units/length.ts";
import type { Bbox, LonLat } from "../core/units/position.ts";

/** A file the person chose. The window holds a handle, never a path; the host keeps what the handle stands for. */
export interface FileHandle {
  readonly id: string;
  /** Name to show, without folders. */
  readonly name: string;
}

export interface SavedWalk {
  readonly file: FileHandle;
  /** Why what was there, and what is there now, could not be kept as versions; null when they are. */
  readonly notKept: FaultRecord | null;
}

export interface OpenedText {
  readonly file: FileHandle;
  readonly text: string;
  /** The host could only read it: saving needs another name. */
  readonly readOnly: boolean;
}

/** One map of the map case. */
export interface MapEntry {
  readonly id: string;
  readonly title: string;
  readonly fileName: string;
  readonly sizeBytes: number;
  readonly hasTerrain: boolean;
  readonly invented: boolean;
  /** The kind of pictures it holds: a scanned sheet, which gives no figures. Null for a map. */
  readonly pictures: PictureType | null;
  /** What the file calls itself, when the person calls it otherwise. */
  readonly ownTitle: string | null;
  /** What the archive says of itself, as far as it says it and can be read. */
  readonly bounds: Bbox | null;
  readonly interval: { readonly value: number; readonly unit: "m" | "ft" } | null;
  readonly source: string | null;
  /** Of the data, YYYY-MM-DD or YYYY. */
  readonly date: string | null;
  /** Day the file was written, YYYY-MM-DD; null when it is not there. */
  readonly fileDay: string | null;
  /** Changes with the file. */
  readonly tag: string;
  /** Where it was last looked at. */
  readonly view: MapView | null;
  /** Why it cannot be opened; null when it can. */
  readonly fault: FaultRecord | null;
}

/** Middle and zoom of the window on a map. */
export interface MapView {
  readonly lonLat: LonLat;
  readonly zoom: number;
}

/** An archive to take in: by bare name in the walk folder, or by the handle of a file that was picked or dropped. */
export type MapChoice = { readonly name: string } | { readonly file: string };

/** Files a map is made of. */
export type DataKind = "elevation" | "features";

/** What a file is that a map may be made of. */
export interface DataLook {
  readonly as: DataKind;
  /** Format of features, when it was read. */
  readonly kind: string | null;
  readonly sizeBytes: number;
  /** Name of its coordinate system; null when it was not read. */
  readonly crs: string | null;
  readonly bounds: Bbox | null;
  /** Elevation only: spacing of its samples, metres, and how many across and down. */
  readonly cellM: number | null;
  readonly samples: readonly [number, number] | null;
  /** Features only: how many, what of them a map shows, and how many no rule knows. Null when it is too large to be read for this. */
  readonly features: number | null;
  readonly onMap: Partial<Record<Role, number>>;
  readonly unknown: number;
  readonly notes: readonly string[];
}

/** All elevation together, looked over; null where it is too large to be read for this. */
export interface ElevationSurvey {
  readonly heights: {
    readonly lowestM: number;
    readonly highestM: number;
    readonly voidShare: number;
  } | null;
  /** The contour interval that is taken when none is set, in either unit. */
  readonly automatic: { readonly m: number; readonly ft: number } | null;
  readonly notes: readonly string[];
}

/** A map to be made. Files by handle. */
export interface MapOrder {
  readonly elevation: readonly string[];
  readonly features: readonly string[];
  readonly title: string;
  /** Null: what the data asks for, as far as that is known. */
  readonly attribution: string | null;
  /** Null: all of the elevation. */
  readonly bounds: Bbox | null;
  /** Null: one that suits the ground. */
  readonly interval: { readonly value: number; readonly unit: "m" | "ft" } | null;
  /** Of elevation files, and of feature files, that do not say theirs. */
  readonly crs: string | null;
  readonly featuresCrs: string | null;
  readonly heightUnit: "m" | "ft" | null;
  /** What is worked out from the ground where the files have none of it. */
  readonly derive: {
    readonly streams: boolean;
    readonly ridges: boolean;
    readonly spotHeights: boolean;
    readonly cliffs: boolean;
  };
  /** Voids up to so many cells wide are filled, and marked; null fills none. */
  readonly fillVoids: number | null;
}

export interface MakingState {
  /** What is being done, in words. */
  readonly stage: string;
  /** Share of the work done, 0–1. */
  readonly done: number;
  /** Seconds left; null while that cannot be said. */
  readonly leftS: number | null;
  /** The map in the case, once it is made. */
  readonly entry: MapEntry | null;
  readonly notes: readonly string[];
  /** Why it ended without a map. */
  readonly fault: FaultRecord | null;
}

/** On replies with bytes of an archive whose file was moved, removed or replaced since it was opened. */
export const GONE_HEADER = "x-legwright-gone";

/**
 * An opened map: where its bytes are to be read, by range requests. The addresses are paths on the window's own
 * origin ("/map/…"), the same in both hosts; replies carry an ETag that changes when the file was replaced.
 */
export interface OpenedMap {
  readonly id: string;
  readonly fileName: string;
  readonly archiveUrl: string;
  readonly terrainUrl: string | null;
}

/** A walk opened or saved lately. */
export interface RecentWalk {
  readonly file: FileHandle;
  /** Name of the folder it lies in. */
  readonly folder: string;
  readonly there: boolean;
}

/**
 * Where a file is to be chosen. Electron shows its own dialogs and takes no choice. In the browser host the page
 * itself asks: either a bare name in the host's walk folder, or the content of a file picked in the browser. In both a
 * file may be known already, by its handle: opened lately, or named when the program was started.
 */
export type OpenChoice =
  | { readonly name: string }
  | { readonly file: string }
  | { readonly upload: { readonly name: string; readonly text: string } };
export interface SaveChoice {
  readonly name: string;
  /** Only with this is a file of that name replaced; without it the answer is a Fault "exists". */
  readonly replace?: boolean | undefined;
}

export interface HostInfo {
  readonly host: "electron" | "browser";
  readonly version: string;
  readonly platform: string;
  /** "native": the host shows file dialogs; "page": the window must pass a choice. */
  readonly dialogs: "native" | "page";
  /** What happened while starting that the person should know, e.g. settings that could not be read and were put aside. */
  readonly notices: readonly string[];
  /** Shown beside the page's own dialog: where its bare names lie, e.g. "Documents/Legwright". Empty with native dialogs. */
  readonly folderName: string;
}

/** Pages to be made of a walk; compass, units and aids are those of the settings. */
export interface SheetOrder {
  /** Text of the walk's file. */
  readonly walk: string;
  /** Null for sheets without a map. */
  readonly mapId: string | null;
  readonly wish: PrintWish;
  /** A worksheet of questions on the map instead, on the paper of the wish and with the norths of the walk's day. */
  readonly worksheet?: WorksheetOrder | null;
  /** Sheets of practice courses instead, on the paper of the wish. */
  readonly course?: CourseOrder | null;
}

export interface CourseOrder {
  readonly parts: readonly CoursePart[];
  /** What learners are given: bearings and lengths, or the points on the map. */
  readonly give: "legs" | "map";
  /** On the map, each as it is now; their figures and rules are looked at anew. */
  readonly courses: readonly {
    readonly name: string;
    readonly wish: CourseWish;
    readonly points: readonly CoursePoint[];
  }[];
  /** On small ground, without a map, instead. */
  readonly field: FieldWish | null;
}

export interface WorksheetOrder {
  readonly drill: DrillWish;
  readonly parts: readonly WorksheetPart[];
}

export interface ReadySheets {
  readonly title: string;
  readonly pages: readonly {
    readonly title: string;
    readonly widthMm: number;
    readonly heightMm: number;
  }[];
  /** What a person should know before printing, in sentences. */
  readonly notes: readonly string[];
}

/** How far a set of pages is. */
export interface SheetsState {
  readonly done: number;
  readonly all: number;
  /** Null while it is being made. */
  readonly ready: ReadySheets | null;
}

export type PageFileKind = "pdf" | "svg";

/** Kinds of text that is written for other programs; of "kmz" the text is the KML, and the host packs it. */
export const EXPORT_KINDS = ["csv", "tsv", "txt", "html", "geojson", "gpx", "kml", "kmz"] as const;
export type ExportKind = (typeof EXPORT_KINDS)[number];

/** How the person's compass is marked, and so how bearings are written. Its spacing is one of `COMPASS_MARKS_DEG`. */
export type CompassSettings = Compass;

const MIL_DEG = 360 / 6400;
/** Spacings a compass may have. Of mils 10, 20, 25, 50 and 100, each exact in degrees. */
export const COMPASS_MARKS_DEG: Readonly<Record<CompassSettings["unit"], readonly number[]>> = {
  degrees: [1, 2, 5],
  quadrant: [1, 2, 5],
  mils: [10, 20, 25, 50, 100].map((mils) => mils * MIL_DEG),
};

/** "british" is the national grid of Great Britain, "grid" the grid called `gridName`. */
export const SHOWN_NOTATIONS = [
  "mgrs",
  "utm",
  "dd",
  "dm",
  "dms",
  "british",
  "grid",
] as const satisfies readonly (PositionNotation | "british" | "grid")[];
export type ShownNotation = (typeof SHOWN_NOTATIONS)[number];

/** Units in which distances on the ground may be asked for, each alone. */
export const SHOWN_LENGTHS = ["m", "km", "ft", "yd", "mi", "ch"] as const satisfies readonly LengthUnitName[];

/** Whose way of writing numbers and days may be chosen: BCP 47 tags. */
export const FIGURE_LOCALES = [
  "cs-CZ",
  "da-DK",
  "de-AT",
  "de-CH",
  "de-DE",
  "en-AU",
  "en-CA",
  "en-GB",
  "en-US",
  "es-ES",
  "es-MX",
  "fi-FI",
  "fr-CA",
  "fr-CH",
  "fr-FR",
  "it-CH",
  "it-IT",
  "ja-JP",
  "ko-KR",
  "nb-NO",
  "nl-NL",
  "pl-PL",
  "pt-BR",
  "pt-PT",
  "sk-SK",
  "sl-SI",
  "sv-SE",
] as const;

/** A grid the person added. */
export interface UserGrid {
  /** Not the name of another grid, nor one of `OFFERED_GRIDS` of core/geodesy. */
  readonly name: string;
  /** PROJ string that `gridOf` of core/geodesy takes. */
  readonly definition: string;
}

/** A counted walk over a known distance, as `calibratePace` takes it. */
export interface PaceTrialOnGround extends PaceTrial {
  readonly ground: PaceGround;
  readonly seconds: number | null;
}

/** Shares of the usual size that text can have. */
export const TEXT_SIZES = [1, 1.25, 1.5, 2] as const;

/** From all of it to none. */
export const SHEET_STRENGTHS = ["full", "half", "faint", "hidden"] as const;

/** What is the person's, or this computer's, and not the walk's. */
export interface Settings {
  readonly theme: "system" | "light" | "dark" | "night";
  /** Metres and kilometres or feet and miles, for heights too. */
  readonly lengthUnit: "metric" | "imperial";
  /** One unit for all distances, such as chains; null writes them as `lengthUnit` has it. */
  readonly lengths: (typeof SHOWN_LENGTHS)[number] | null;
  /** How numbers and days are written in the window; null as the system has it. */
  readonly figureLocale: (typeof FIGURE_LOCALES)[number] | null;
  readonly compass: CompassSettings;
  /** How positions are written. */
  readonly notation: ShownNotation;
  readonly grids: readonly UserGrid[];
  /** One of `grids` or of `OFFERED_GRIDS`; null when none is chosen, and then `notation` is not "grid". */
  readonly gridName: string | null;
  readonly paceTrials: readonly PaceTrialOnGround[];
  /** How far aside the person stood after known distances on a bearing. */
  readonly driftTrials: readonly DriftTrial[];
  /** What aids and odds go by. */
  readonly aids: AidSettings;
  /** Where simulated walkers end, and the ways out, on the map. */
  readonly showCloud: boolean;
  readonly showWayOut: boolean;
  /** One of `TEXT_SIZES`: text and all that goes by it, as a share of its usual size. */
  readonly textSize: number;
  /** Points are put on what lies near the pointer. */
  readonly catching: boolean;
  /** Lines of the shown grid, and of magnetic north, over the map. */
  readonly showGrid: boolean;
  readonly showMagneticNorth: boolean;
  /** The map under each scanned sheet, by the sheet's id: what lies on the ground there. Null is none. */
  readonly sheetGrounds: Readonly<Record<string, string | null>>;
  /** How strongly a scanned sheet shows, and whether the lines of the map under it are drawn over it. */
  readonly sheetStrength: (typeof SHEET_STRENGTHS)[number];
  readonly sheetLines: boolean;
  readonly print: PrintChoices;
  /** One of `KEPT_VERSIONS`. */
  readonly keptVersions: number;
  readonly lastMapId: string | null;
  readonly cautionSeen: boolean;
  readonly window: WindowPlace;
}

/** Where the window was last, as it is when neither maximised nor filling the screen; x and y are null before it was anywhere. */
export interface WindowPlace {
  readonly width: number;
  readonly height: number;
  readonly x: number | null;
  readonly y: number | null;
  readonly maximised: boolean;
  readonly fullScreen: boolean;
}

/** What is chosen for paper and remembered from walk to walk: all but where its sheets lie. */
export type PrintChoices = Omit<PrintWish, "frames">;
const { frames: _frames, ...USUAL_PRINT } = USUAL_WISH;

/** The settings before anything was chosen. */
export const USUAL_SETTINGS: Settings = {
  theme: "system",
  lengthUnit: "metric",
  lengths: null,
  figureLocale: null,
  compass: { unit: "degrees", graduationDeg: 1, adjustable: false },
  notation: "mgrs",
  grids: [],
  gridName: null,
  paceTrials: [],
  driftTrials: [],
  aids: USUAL_AIDS,
  showCloud: true,
  showWayOut: false,
  textSize: 1,
  catching: true,
  showGrid: false,
  showMagneticNorth: false,
  sheetGrounds: {},
  sheetStrength: "full",
  sheetLines: true,
  print: USUAL_PRINT,
  keptVersions: 20,
  lastMapId: null,
  cautionSeen: false,
  window: { width: 1280, height: 820, x: null, y: null, maximised: false, fullScreen: false },
};

/** How many versions of each walk may be kept. */
export const KEPT_VERSIONS = [5, 20, 50, 200] as const;

/** A walk file of which versions are kept; the file itself may be gone. */
export interface KeptWalk {
  readonly key: string;
  readonly name: string;
  /** Name of the folder it lies in. */
  readonly folder: string;
  readonly there: boolean;
}

/** A text that was saved once. */
export interface KeptVersion {
  /** Gives the order: the clock may have been set meanwhile. */
  readonly number: number;
  /** What the clock said, milliseconds since 1970. */
  readonly at: number;
  readonly text: string;
}

/** Unsaved work of a window that ended without asking. */
export interface FoundDraft {
  readonly id: string;
  readonly title: string;
  /** What the clock said, milliseconds since 1970. */
  readonly at: number;
  readonly text: string;
  /** Where it was last saved, and what is there now; null when nowhere, or nothing. */
  readonly fileName: string | null;
  readonly saved: string | null;
}

/** Every call the window may make. Each fails only with a Fault. */
export interface HostApi {
  info(): Promise<HostInfo>;

  listMaps(): Promise<readonly MapEntry[]>;
  /**
   * Adds an archive the person chooses to the map case; null when they choose none. Archives in the walk folder are in it
   * already. An MBTiles archive is converted into the walk folder first.
   */
  addMap(choice?: MapChoice): Promise<MapEntry | null>;
  /** Says where the file of a map of the case lies now; title and view go with it. */
  relocateMap(id: string, choice?: MapChoice): Promise<MapEntry | null>;
  /** Takes a map out of the case; its file stays. */
  removeMap(id: string): Promise<void>;
  /** Calls a map otherwise in the case; null calls it as its file does. */
  renameMap(id: string, title: string | null): Promise<void>;
  /** Shows the file in the system's own window; where the host cannot, only says where it lies. */
  revealMap(id: string): Promise<{ readonly shown: boolean; readonly place: string }>;
  keepMapView(id: string, view: MapView): Promise<void>;

  /** Names of files in the host's walk folder that may be of a kind, for the page's own dialog ("page" hosts only). */
  listDataFiles(kind: DataKind | "map"): Promise<readonly string[]>;
  /** Files of a kind that the person picks; in a "page" host those named. */
  pickDataFiles(kind: DataKind, names?: readonly string[]): Promise<readonly FileHandle[]>;
  /** What a picked file is. Fails with the file's own fault, "no-crs" when it does not say where on earth it lies. */
  lookAtData(fileId: string, as: DataKind, crs: string | null): Promise<DataLook>;
  surveyElevation(
    order: Pick<MapOrder, "elevation" | "crs" | "heightUnit" | "bounds">,
  ): Promise<ElevationSurvey>;
  /** Begins to make a map in the walk folder. @returns its key for the calls below */
  startMapMaking(order: MapOrder): Promise<string>;
  mapMakingState(key: string): Promise<MakingState>;
  /** Answers when nothing is left of it. */
  cancelMapMaking(key: string): Promise<void>;
  openMap(id: string): Promise<OpenedMap>;

  /** Roles set by hand for maps of this id: one entry for each archive. */
  recallRoles(mapId: string): Promise<readonly RememberedRoles[]>;
  rememberRoles(roles: RememberedRoles): Promise<void>;
  /** From now on the archive plays the roles it says, or those guessed. */
  forgetRoles(mapId: string, fingerprint: string): Promise<void>;

  /** File names in the host's walk folder, for the page's own dialog ("page" hosts only). */
  listWalkFiles(): Promise<readonly string[]>;
  openWalk(choice?: OpenChoice): Promise<OpenedText | null>;
  /** The newest first; `there` is asked each time. */
  recentWalks(): Promise<readonly RecentWalk[]>;
  /** Takes a walk off that list, the file stays; null takes off all. */
  forgetRecent(id: string | null): Promise<void>;
  /** Files the program was asked from outside to open, each told once. */
  filesToOpen(): Promise<readonly FileHandle[]>;
  /** Opens the demo walk that ships with the app, as a new unsaved walk. */
  openDemoWalk(): Promise<{ readonly text: string; readonly mapId: string }>;
  /**
   * Atomic: either the whole text is on disk or the old file is untouched. What was there, and what is there now, are kept
   * as versions. @returns why they could not be; null when they are
   *
   * Fault "changed-on-disk" when another program wrote the file since it was opened or saved here, unless
   * `evenIfChanged`; "taken-over" when another window writes it now; "read-only", "no-space", "no-file" (its folder is gone) as they are.
   */
  saveWalk(
    file: FileHandle,
    text: string,
    options?: { readonly evenIfChanged?: boolean | undefined },
  ): Promise<FaultRecord | null>;
  /** As `saveWalk`, under a name the person chooses; null when they chose none. */
  saveWalkAs(text: string, suggestedName: string, choice?: SaveChoice): Promise<SavedWalk | null>;

  /** Whether the file is as it was last read or written here. */
  walkOnDisk(file: FileHandle): Promise<"same" | "changed" | "gone">;
  /** Reads it again; from then on what it holds now is known, and saving does not ask. */
  reopenWalk(file: FileHandle): Promise<OpenedText>;

  /**
   * A window says every few seconds that it is there; a hidden one, whose timers the browser slows down, once a minute.
   * @param hidden cannot be seen: also said at once when it changes
   * @returns work left by windows that are gone, and whether another window took this one's file over
   */
  beat(
    windowId: string,
    hidden: boolean,
  ): Promise<{ readonly takenOver: boolean; readonly drafts: readonly FoundDraft[] }>;
  /** The window goes. @param forget what it did not save was given up on purpose */
  leave(windowId: string, forget?: boolean): Promise<void>;
  /** Takes a file for a window to write, letting go of the one it had. False when another window has it. */
  holdWalk(windowId: string, file: FileHandle | null, takeOver?: boolean): Promise<boolean>;
  /** Keeps unsaved work; null takes it away. @param slot 0 is the open walk, others lie beside it */
  keepDraft(
    windowId: string,
    slot: number,
    draft: { readonly title: string; readonly text: string; readonly file: FileHandle | null } | null,
  ): Promise<void>;
  /** Its text, and the file it belongs to. It stays kept until it is dropped. */
  takeDraft(
    id: string,
  ): Promise<{ readonly text: string; readonly file: FileHandle | null; readonly readOnly: boolean }>;
  dropDraft(id: string): Promise<void>;
  /** Walks of which versions are kept; `open` is the key of the file given. */
  keptWalks(
    file: FileHandle | null,
  ): Promise<{ readonly walks: readonly KeptWalk[]; readonly open: string | null }>;
  /** The newest first. */
  keptVersions(key: string): Promise<readonly KeptVersion[]>;

  exportText(
    kind: ExportKind,
    text: string,
    suggestedName: string,
    choice?: SaveChoice,
  ): Promise<FileHandle | null>;

  /** Begins to make pages. @returns their key for the calls below; the host keeps the sets asked for last */
  startSheets(order: SheetOrder): Promise<string>;
  /**
   * Waits a moment for pages to be ready, then says how far they are.
   * Fails with the fault that making them met, "cancelled" when they were given up
   */
  sheetsState(key: string): Promise<SheetsState>;
  cancelSheets(key: string): Promise<void>;
  /** One page as SVG, as it prints; pages are counted from 0. */
  sheetsPage(key: string, page: number): Promise<string>;
  /** As SVG several pages are several files, numbered; the first is told. Null when the person chooses none. */
  saveSheets(
    key: string,
    kind: PageFileKind,
    suggestedName: string,
    choice?: SaveChoice,
  ): Promise<FileHandle | null>;
  /** To a printer by the system's own dialog, true to size. Fault "unavailable" where the host has none. */
  printSheets(key: string): Promise<void>;

  /** The menu of the host's own; a host without one does nothing. */
  showMenu(menu: NativeMenu): Promise<void>;
  /** Fills the screen or stops to. False where the page has to do it. */
  fillScreen(): Promise<boolean>;
  /** Ends the program, once the person has said that nothing holds it back; a host in a browser goes on. */
  quit(): Promise<void>;

  getSettings(): Promise<Settings>;
  setSettings(change: Partial<Settings>): Promise<Settings>;
}

/** A line of the native menu. */
export interface NativeItem {
  readonly id: string;
  readonly label: string;
  /** As commands name their keys: "shift+z", with Ctrl or Cmd. */
  readonly key: string | null;
  readonly enabled: boolean;
  /** Null for what is neither on nor off. */
  readonly on: boolean | null;
  /** One of several, of which one is on. */
  readonly oneOf: boolean;
}

/** Lines that belong together. With a heading they open beside it. */
export interface NativePart {
  readonly heading: string | null;
  readonly items: readonly NativeItem[];
}

/** What the system does by itself in a menu, and what those lines are called. */
export const SYSTEM_ITEMS = [
  "cut",
  "copy",
  "paste",
  "selectAll",
  "close",
  "quit",
  "hide",
  "hideOthers",
  "unhide",
  "minimize",
  "zoom",
  "front",
] as const;
export type SystemItem = (typeof SYSTEM_ITEMS)[number];

export const NATIVE_MENUS = ["file", "edit", "view", "tools", "window", "help"] as const;

/** The window's commands as a menu of the host's own shows them; what a system expects beside them the host adds. */
export interface NativeMenu {
  readonly titles: Readonly<Record<(typeof NATIVE_MENUS)[number], string>>;
  readonly menus: Readonly<Record<"file" | "edit" | "view" | "tools", readonly NativePart[]>>;
  /** In the menu of the program's name where there is one, else under Edit and under Help. */
  readonly settings: NativeItem;
  readonly about: NativeItem;
  readonly help: readonly NativeItem[];
  readonly system: Readonly<Record<SystemItem, string>>;
}

/** What the host may ask of the window: a line of the menu it showed, or something of its own. */
export type HostCommand =
  | { readonly item: string }
  /** Whether the window may go, with the program or alone; or to look for files to open. */
  | { readonly ask: "close" | "quit" | "open-files" };

export type HostMethod = keyof HostApi;

/** Checked against HostApi by the compiler: a method missing here does not compile. */
export const HOST_METHODS = {
  info: true,
  listMaps: true,
  addMap: true,
  relocateMap: true,
  removeMap: true,
  renameMap: true,
  revealMap: true,
  keepMapView: true,
  listDataFiles: true,
  pickDataFiles: true,
  lookAtData: true,
  surveyElevation: true,
  startMapMaking: true,
  mapMakingState: true,
  cancelMapMaking: true,
  openMap: true,
  recallRoles: true,
  rememberRoles: true,
  forgetRoles: true,
  listWalkFiles: true,
  openWalk: true,
  recentWalks: true,
  forgetRecent: true,
  filesToOpen: true,
  openDemoWalk: true,
  saveWalk: true,
  saveWalkAs: true,
  walkOnDisk: true,
  reopenWalk: true,
  beat: true,
  leave: true,
  holdWalk: true,
  keepDraft: true,
  takeDraft: true,
  dropDraft: true,
  keptWalks: true,
  keptVersions: true,
  exportText: true,
  startSheets: true,
  sheetsState: true,
  cancelSheets: true,
  sheetsPage: true,
  saveSheets: true,
  printSheets: true,
  showMenu: true,
  fillScreen: true,
  quit: true,
  getSettings: true,
  setSettings: true,
} as const satisfies Record<HostMethod, true>;

/** A reply as it crosses a process. */
export type Envelope<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly fault: FaultRecord };

/** What the host puts on the window for the page (by the context bridge, or by the page's own HTTP client). */
export interface HostBridge {
  call<M extends HostMethod>(
    method: M,
    ...args: Parameters<HostApi[M]>
  ): Promise<Envelope<Awaited<ReturnType<HostApi[M]>>>>;
  /**
   * A file dropped on the page or picked in it. The shell takes note of where it lies; the browser host gets a copy of it in
   * its walk folder. @param file of the page (a DOM `File`); @param told called with the share that has come
   */
  takeFile(file: unknown, told?: (done: number) => void, signal?: AbortSignal): Promise<Envelope<FileHandle>>;
  /** What the host asks. Returns a function that stops listening. */
  onCommand(listener: (command: HostCommand) => void): () => void;
}
