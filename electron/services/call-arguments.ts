import * as v from "valibot";
import { Fault } from "../../core/fault.ts";
import { rolesOf } from "../../core/map/set-roles.ts";
import {
  EXPORT_KINDS,
  HOST_METHODS,
  KEPT_VERSIONS,
  type HostApi,
  type HostMethod,
  NATIVE_MENUS,
  SHEET_STRENGTHS,
  SYSTEM_ITEMS,
  TEXT_SIZES,
} from "../contract.ts";
import { MAP_TITLE, MAP_VIEW } from "./map-case-notes.ts";
import { PREFERENCE_SHAPES } from "./preferences.ts";
import { PRINT_WISH } from "./sheets/wish-shape.ts";
import { COURSE_ORDER } from "./sheets/course-shape.ts";
import { WORKSHEET_ORDER } from "./sheets/worksheet-shape.ts";
import { MAX_WALK_BYTES } from "./walk-files.ts";

const name = v.pipe(v.string(), v.maxLength(1000));
const text = v.pipe(v.string(), v.maxLength(MAX_WALK_BYTES));
const id = v.pipe(v.string(), v.maxLength(1000));
/** JSON has no undefined: what was left out may come as null. */
const leftOut = <S extends v.GenericSchema>(schema: S) =>
  v.pipe(
    v.nullish(schema),
    v.transform((value) => value ?? undefined),
  );

const named = v.strictObject({ name });
const saveChoice = leftOut(v.strictObject({ name, replace: v.optional(v.boolean()) }));
const openChoice = leftOut(
  v.union([named, v.strictObject({ file: id }), v.strictObject({ upload: v.strictObject({ name, text }) })]),
);
const file = v.strictObject({ id, name });
const windowId = v.pipe(v.string(), v.uuid());
/** What is not a window's business is never part of a path. */
const draftId = v.pipe(v.string(), v.regex(/^[0-9a-f-]{36}\.\d{1,9}$/));
const yesOrLeftOut = leftOut(v.boolean());

const size = v.pipe(v.number(), v.integer(), v.minValue(200), v.maxValue(20_000));
/** Screens left of the first, or above it, have places below zero. */
const place = v.nullable(v.pipe(v.number(), v.integer(), v.minValue(-100_000), v.maxValue(100_000)));
const settings = v.strictObject({
  theme: v.exactOptional(v.picklist(["system", "light", "dark", "night"])),
  lengthUnit: v.exactOptional(v.picklist(["metric", "imperial"])),
  lastMapId: v.exactOptional(v.nullable(id)),
  cautionSeen: v.exactOptional(v.boolean()),
  window: v.exactOptional(
    v.strictObject({
      width: size,
      height: size,
      x: place,
      y: place,
      maximised: v.boolean(),
      fullScreen: v.boolean(),
    }),
  ),
  lengths: v.exactOptional(PREFERENCE_SHAPES.lengths),
  figureLocale: v.exactOptional(PREFERENCE_SHAPES.figureLocale),
  compass: v.exactOptional(PREFERENCE_SHAPES.compass),
  notation: v.exactOptional(PREFERENCE_SHAPES.notation),
  grids: v.exactOptional(PREFERENCE_SHAPES.grids),
  gridName: v.exactOptional(PREFERENCE_SHAPES.gridName),
  paceTrials: v.exactOptional(PREFERENCE_SHAPES.paceTrials),
  driftTrials: v.exactOptional(PREFERENCE_SHAPES.driftTrials),
  aids: v.exactOptional(PREFERENCE_SHAPES.aids),
  print: v.exactOptional(PREFERENCE_SHAPES.print),
  showCloud: v.exactOptional(v.boolean()),
  showWayOut: v.exactOptional(v.boolean()),
  textSize: v.exactOptional(v.picklist(TEXT_SIZES)),
  catching: v.exactOptional(v.boolean()),
  showGrid: v.exactOptional(v.boolean()),
  showMagneticNorth: v.exactOptional(v.boolean()),
  sheetGrounds: v.exactOptional(v.record(id, v.nullable(id))),
  sheetStrength: v.exactOptional(v.picklist(SHEET_STRENGTHS)),
  sheetLines: v.exactOptional(v.boolean()),
  keptVersions: v.exactOptional(v.picklist(KEPT_VERSIONS)),
});

const layerName = v.pipe(v.string(), v.nonEmpty(), v.maxLength(1000));
const rememberedRoles = v.strictObject({
  id,
  fingerprint: id,
  layers: v.pipe(v.array(layerName), v.maxLength(5000)),
  // What makes no sense of it is left out, as of an archive's own metadata.
  roles: v.pipe(
    v.record(v.string(), v.unknown()),
    v.transform((value) => rolesOf(value) ?? {}),
  ),
});

const mapChoice = leftOut(v.union([named, v.strictObject({ file: id })]));
const dataKind = v.picklist(["elevation", "features"]);
const degrees = v.pipe(v.number(), v.minValue(-180), v.maxValue(180));
const bounds = v.nullable(
  v.pipe(
    v.strictTuple([degrees, degrees, degrees, degrees]),
    v.check(
      ([west, south, east, north]) => west < east && south < north && south >= -90 && north <= 90,
      "an area runs from west to east and from south to north",
    ),
  ),
);
const fileIds = v.pipe(v.array(id), v.maxLength(500));
const crs = v.nullable(v.pipe(v.string(), v.maxLength(10_000)));
const heightUnit = v.nullable(v.picklist(["m", "ft"]));
const mapOrder = v.strictObject({
  elevation: fileIds,
  features: fileIds,
  title: v.pipe(v.string(), v.maxLength(200)),
  attribution: v.nullable(v.pipe(v.string(), v.maxLength(1000))),
  bounds,
  interval: v.nullable(
    v.strictObject({ value: v.pipe(v.number(), v.gtValue(0)), unit: v.picklist(["m", "ft"]) }),
  ),
  crs,
  featuresCrs: crs,
  heightUnit,
  derive: v.strictObject({
    streams: v.boolean(),
    ridges: v.boolean(),
    spotHeights: v.boolean(),
    cliffs: v.boolean(),
  }),
  fillVoids: v.nullable(v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(1000))),
});

/** Labels hold names of files and of steps; a menu longer than this is nobody's. */
const label = v.pipe(v.string(), v.maxLength(300));
const nativeItem = v.strictObject({
  id: label,
  label,
  key: v.nullable(v.pipe(v.string(), v.maxLength(20))),
  enabled: v.boolean(),
  on: v.nullable(v.boolean()),
  oneOf: v.boolean(),
});
const nativeItems = v.pipe(v.array(nativeItem), v.maxLength(100));
const nativeParts = v.pipe(
  v.array(v.strictObject({ heading: v.nullable(label), items: nativeItems })),
  v.maxLength(30),
);
const nativeMenu = v.strictObject({
  titles: v.strictObject(v.entriesFromList(NATIVE_MENUS, label)),
  menus: v.strictObject({ file: nativeParts, edit: nativeParts, view: nativeParts, tools: nativeParts }),
  settings: nativeItem,
  about: nativeItem,
  help: nativeItems,
  system: v.strictObject(v.entriesFromList(SYSTEM_ITEMS, label)),
});

/** Each method's arguments in order. A method missing here, or one that lets through another type, does not compile. */
const ARGUMENTS: { readonly [M in HostMethod]: v.GenericSchema<unknown, Parameters<HostApi[M]>> } = {
  info: v.strictTuple([]),
  listMaps: v.strictTuple([]),
  addMap: v.strictTuple([mapChoice]),
  relocateMap: v.strictTuple([id, mapChoice]),
  removeMap: v.strictTuple([id]),
  renameMap: v.strictTuple([id, v.nullable(MAP_TITLE)]),
  revealMap: v.strictTuple([id]),
  keepMapView: v.strictTuple([id, MAP_VIEW]),
  listDataFiles: v.strictTuple([v.picklist(["elevation", "features", "map"])]),
  pickDataFiles: v.strictTuple([dataKind, leftOut(v.pipe(v.array(name), v.maxLength(500)))]),
  lookAtData: v.strictTuple([id, dataKind, crs]),
  surveyElevation: v.strictTuple([v.strictObject({ elevation: fileIds, crs, heightUnit, bounds })]),
  startMapMaking: v.strictTuple([mapOrder]),
  mapMakingState: v.strictTuple([id]),
  cancelMapMaking: v.strictTuple([id]),
  openMap: v.strictTuple([id]),
  recallRoles: v.strictTuple([id]),
  rememberRoles: v.strictTuple([rememberedRoles]),
  forgetRoles: v.strictTuple([id, id]),
  listWalkFiles: v.strictTuple([]),
  openWalk: v.strictTuple([openChoice]),
  recentWalks: v.strictTuple([]),
  forgetRecent: v.strictTuple([v.nullable(id)]),
  filesToOpen: v.strictTuple([]),
  openDemoWalk: v.strictTuple([]),
  saveWalk: v.strictTuple([file, text, leftOut(v.strictObject({ evenIfChanged: v.optional(v.boolean()) }))]),
  saveWalkAs: v.strictTuple([text, name, saveChoice]),
  walkOnDisk: v.strictTuple([file]),
  reopenWalk: v.strictTuple([file]),
  beat: v.strictTuple([windowId, v.boolean()]),
  leave: v.strictTuple([windowId, yesOrLeftOut]),
  holdWalk: v.strictTuple([windowId, v.nullable(file), yesOrLeftOut]),
  keepDraft: v.strictTuple([
    windowId,
    v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(999_999_999)),
    v.nullable(v.strictObject({ title: text, text, file: v.nullable(file) })),
  ]),
  takeDraft: v.strictTuple([draftId]),
  dropDraft: v.strictTuple([draftId]),
  keptWalks: v.strictTuple([v.nullable(file)]),
  keptVersions: v.strictTuple([v.pipe(v.string(), v.regex(/^[0-9a-f]{32}$/))]),
  exportText: v.strictTuple([v.picklist(EXPORT_KINDS), text, name, saveChoice]),
  startSheets: v.strictTuple([
    v.strictObject({
      walk: text,
      mapId: v.nullable(id),
      wish: PRINT_WISH,
      worksheet: v.exactOptional(v.nullable(WORKSHEET_ORDER)),
      course: v.exactOptional(v.nullable(COURSE_ORDER)),
    }),
  ]),
  sheetsState: v.strictTuple([id]),
  cancelSheets: v.strictTuple([id]),
  sheetsPage: v.strictTuple([id, v.pipe(v.number(), v.integer(), v.minValue(0))]),
  saveSheets: v.strictTuple([id, v.picklist(["pdf", "svg"]), name, saveChoice]),
  printSheets: v.strictTuple([id]),
  showMenu: v.strictTuple([nativeMenu]),
  fillScreen: v.strictTuple([]),
  quit: v.strictTuple([]),
  getSettings: v.strictTuple([]),
  setSettings: v.strictTuple([settings]),
};

/** How many arguments each method takes, those that may be left out included. */
const COUNTS: { readonly [M in HostMethod]: number } = {
  info: 0,
  listMaps: 0,
  addMap: 1,
  relocateMap: 2,
  removeMap: 1,
  renameMap: 2,
  revealMap: 1,
  keepMapView: 2,
  listDataFiles: 1,
  pickDataFiles: 2,
  lookAtData: 3,
  surveyElevation: 1,
  startMapMaking: 1,
  mapMakingState: 1,
  cancelMapMaking: 1,
  openMap: 1,
  recallRoles: 1,
  rememberRoles: 1,
  forgetRoles: 2,
  listWalkFiles: 0,
  openWalk: 1,
  recentWalks: 0,
  forgetRecent: 1,
  filesToOpen: 0,
  openDemoWalk: 0,
  saveWalk: 3,
  saveWalkAs: 3,
  walkOnDisk: 1,
  reopenWalk: 1,
  beat: 2,
  leave: 2,
  holdWalk: 3,
  keepDraft: 3,
  takeDraft: 1,
  dropDraft: 1,
  keptWalks: 1,
  keptVersions: 1,
  exportText: 4,
  startSheets: 1,
  sheetsState: 1,
  cancelSheets: 1,
  sheetsPage: 2,
  saveSheets: 4,
  printSheets: 1,
  showMenu: 1,
  fillScreen: 0,
  quit: 0,
  getSettings: 0,
  setSettings: 1,
};

export function isHostMethod(method: unknown): method is HostMethod {
  return typeof method === "string" && Object.hasOwn(HOST_METHODS, method);
}

/**
 * The arguments of a call as they came over the bridge, checked.
 * @throws Fault "bad-argument" naming the method and the place in its arguments
 */
export function checkArguments<M extends HostMethod>(method: M, args: unknown): Parameters<HostApi[M]> {
  const given = Array.isArray(args) ? [...(args as unknown[])] : [args];
  while (Array.isArray(args) && given.length < COUNTS[method]) given.push(undefined);
  const result = v.safeParse(ARGUMENTS[method], Array.isArray(args) ? given : args, { abortEarly: true });
  if (result.success) return result.output;
  const issue = result.issues[0];
  throw new Fault(
    "bad-argument",
    `The call ${method} was given something it does not take: ${issue.message}.`,
    v.getDotPath(issue) ?? "its arguments",
  );
}
