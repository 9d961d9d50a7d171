import * as v from "valibot";
import { Fault } from "../../core/fault.ts";
import { rolesOf } from "../../core/map/set-roles.ts";
import { HOST_METHODS, type HostApi, type HostMethod } from "../contract.ts";
import { PREFERENCE_SHAPES } from "./preferences.ts";
import { PRINT_WISH } from "./sheets/wish-shape.ts";
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
const openChoice = leftOut(v.union([named, v.strictObject({ upload: v.strictObject({ name, text }) })]));
const file = v.strictObject({ id, name });

const size = v.pipe(v.number(), v.integer(), v.minValue(200), v.maxValue(20_000));
const settings = v.strictObject({
  theme: v.exactOptional(v.picklist(["system", "light", "dark", "night"])),
  lengthUnit: v.exactOptional(v.picklist(["metric", "imperial"])),
  lastMapId: v.exactOptional(v.nullable(id)),
  cautionSeen: v.exactOptional(v.boolean()),
  window: v.exactOptional(v.strictObject({ width: size, height: size, maximised: v.boolean() })),
  lengths: v.exactOptional(PREFERENCE_SHAPES.lengths),
  compass: v.exactOptional(PREFERENCE_SHAPES.compass),
  notation: v.exactOptional(PREFERENCE_SHAPES.notation),
  grids: v.exactOptional(PREFERENCE_SHAPES.grids),
  gridName: v.exactOptional(PREFERENCE_SHAPES.gridName),
  paceTrials: v.exactOptional(PREFERENCE_SHAPES.paceTrials),
  aids: v.exactOptional(PREFERENCE_SHAPES.aids),
  print: v.exactOptional(PREFERENCE_SHAPES.print),
  showCloud: v.exactOptional(v.boolean()),
  showWayOut: v.exactOptional(v.boolean()),
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

/** Each method's arguments in order. A method missing here, or one that lets through another type, does not compile. */
const ARGUMENTS: { readonly [M in HostMethod]: v.GenericSchema<unknown, Parameters<HostApi[M]>> } = {
  info: v.strictTuple([]),
  listMaps: v.strictTuple([]),
  addMap: v.strictTuple([leftOut(named)]),
  openMap: v.strictTuple([id]),
  recallRoles: v.strictTuple([id]),
  rememberRoles: v.strictTuple([rememberedRoles]),
  forgetRoles: v.strictTuple([id, id]),
  listWalkFiles: v.strictTuple([]),
  openWalk: v.strictTuple([openChoice]),
  openDemoWalk: v.strictTuple([]),
  saveWalk: v.strictTuple([file, text, leftOut(v.strictObject({ evenIfChanged: v.optional(v.boolean()) }))]),
  saveWalkAs: v.strictTuple([text, name, saveChoice]),
  exportText: v.strictTuple([v.picklist(["csv", "html", "geojson"]), text, name, saveChoice]),
  startSheets: v.strictTuple([v.strictObject({ walk: text, mapId: v.nullable(id), wish: PRINT_WISH })]),
  sheetsState: v.strictTuple([id]),
  cancelSheets: v.strictTuple([id]),
  sheetsPage: v.strictTuple([id, v.pipe(v.number(), v.integer(), v.minValue(0))]),
  saveSheets: v.strictTuple([id, v.picklist(["pdf", "svg"]), name, saveChoice]),
  printSheets: v.strictTuple([id]),
  getSettings: v.strictTuple([]),
  setSettings: v.strictTuple([settings]),
};

/** How many arguments each method takes, those that may be left out included. */
const COUNTS: { readonly [M in HostMethod]: number } = {
  info: 0,
  listMaps: 0,
  addMap: 1,
  openMap: 1,
  recallRoles: 1,
  rememberRoles: 1,
  forgetRoles: 2,
  listWalkFiles: 0,
  openWalk: 1,
  openDemoWalk: 0,
  saveWalk: 3,
  saveWalkAs: 3,
  exportText: 4,
  startSheets: 1,
  sheetsState: 1,
  cancelSheets: 1,
  sheetsPage: 2,
  saveSheets: 4,
  printSheets: 1,
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
