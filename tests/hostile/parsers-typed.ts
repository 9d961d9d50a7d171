/** What a person types, what settings hold, and what comes over the bridge. */
import { parseEastWest } from "../../core/geodesy/printed-declination.ts";
import { parsePosition } from "../../core/geodesy/parse-position.ts";
import { gridOf } from "../../core/geodesy/grid.ts";
import { checkLonLat } from "../../core/units/position.ts";
import { emptyWalk } from "../../core/walk/walk.ts";
import { USUAL_WISH } from "../../core/sheet/sheet-job.ts";
import { parseBearing } from "../../core/units/parse-bearing.ts";
import { parseLength } from "../../core/units/length.ts";
import { parseScale } from "../../core/units/scale.ts";
import {
  HOST_METHODS,
  type HostMethod,
  type NativeMenu,
  SYSTEM_ITEMS,
  USUAL_SETTINGS,
} from "../../electron/contract.ts";
import { rememberedRolesIn } from "../../electron/services/archives/remembered-roles.ts";
import { checkArguments } from "../../electron/services/call-arguments.ts";
import { readCaseNotes } from "../../electron/services/map-case-notes.ts";
import { recentPathsIn } from "../../electron/services/recent-walks.ts";
import { changePreferences, readPreferences } from "../../electron/services/preferences.ts";
import { type Asked, understand } from "../../renderer/find/understand.ts";
import type { Parser } from "./parsers.ts";
import { type Seed, textSeed } from "./seeds.ts";

const text = ({ bytes }: Seed): string => new TextDecoder().decode(bytes);
const json = (seed: Seed): unknown => {
  try {
    return JSON.parse(text(seed));
  } catch {
    return text(seed);
  }
};

const POSITIONS = ["47.3769 N 8.5417 E", "47° 22′ 36.8″ N, 8° 32′ 30″ E", "33T 456789 5123456", "33TUN 12345 67890", "123 456", "47,3769; 8,5417", "Z 2000000 2000000", "SD 12 34"]; // prettier-ignore
const BEARINGS = ["51", "051°", "51° 30′", "910 mils", "N 40° W", "S40E"];
const LEGS = ["A 51 mag 300 m", "from A 910 mils for 1.2 km", "B 120° true 400 yd"];

const asked: Asked = {
  ...emptyWalk("2026-05-16"),
  near: [10.1, 45.1] as const,
  notation: "mgrs" as const,
  grids: [],
  gridName: null,
  points: [{ label: "Start", letter: "A", lonLat: [10, 45] as const }],
  from: 0,
  places: [],
};

const LINE = { id: "save", label: "Save", key: "s", enabled: true, on: null, oneOf: false };
const NATIVE_MENU: NativeMenu = {
  titles: { file: "File", edit: "Edit", view: "View", tools: "Tools", window: "Window", help: "Help" },
  menus: { file: [{ heading: "Lately", items: [LINE] }], edit: [], view: [], tools: [] },
  settings: LINE,
  about: LINE,
  help: [{ ...LINE, on: true, oneOf: true }],
  system: Object.fromEntries(SYSTEM_ITEMS.map((one) => [one, one])) as NativeMenu["system"],
};

const BRIDGE: Partial<Record<HostMethod, readonly unknown[]>> = {
  addMap: [{ name: "a.pmtiles" }],
  relocateMap: ["id", { file: "x" }],
  keepMapView: ["id", { lonLat: [10, 45], zoom: 12 }],
  startMapMaking: [
    { elevation: ["a"], features: [], title: "A", attribution: null, bounds: [10, 45, 11, 46], interval: { value: 10, unit: "m" }, crs: null, featuresCrs: null, heightUnit: "m", derive: { streams: true, ridges: true, spotHeights: false, cliffs: false }, fillVoids: 4 },
  ],
  pickDataFiles: ["elevation", ["a", "b"]],
  lookAtData: ["id", "features", "EPSG:2193"],
  surveyElevation: [{ elevation: ["a"], crs: null, heightUnit: null, bounds: [10, 45, 11, 46] }],
  exportText: ["csv", "text", "name", { name: "b" }],
  sheetsPage: ["key", 3],
  saveSheets: ["key", "pdf", "name", { name: "b" }],
  saveWalk: [{ id: "x", name: "y" }, "text", { evenIfChanged: true }],
  saveWalkAs: ["text", "name", { name: "b", replace: true }],
  openWalk: [{ upload: { name: "a", text: "{}" } }],
  startSheets: [{ walk: "{}", mapId: null, wish: { ...USUAL_WISH, frames: [{ centre: [10, 45], scale: 25000, turnDeg: 5 }] } }],
  setSettings: [USUAL_SETTINGS],
  forgetRecent: ["id"],
  showMenu: [NATIVE_MENU],
  rememberRoles: [{ id: "a", fingerprint: "b", layers: ["c"], roles: { path: { layer: "c", where: { key: "k", values: ["v"] } } } }],
}; // prettier-ignore

const STORED = JSON.stringify({
  ...USUAL_SETTINGS,
  recentWalks: ["/a/b.walk.geojson"],
  grids: [{ name: "Mine", definition: "+proj=utm +zone=33 +ellps=GRS80" }],
  paceTrials: [{ ground: "flat", distanceM: 100, paces: 60, seconds: 70 }],
  caseNotes: {
    hidden: ["a"],
    titles: { a: "A" },
    seen: { a: "B" },
    views: { a: { lonLat: [10, 45], zoom: 12 } },
  },
  mapRoles: [{ id: "a", fingerprint: "b", layers: ["c"], roles: { path: { layer: "c" } } }],
});

const typed = (name: string, examples: readonly string[], read: (typedText: string) => void): Parser => ({
  name,
  stuff: "text",
  weight: 5,
  ofFile: false,
  seeds: () => examples.map((one) => textSeed("typed", one)),
  read: (seed) => read(text(seed)),
});
const finite = (value: number): void => {
  if (!Number.isFinite(value)) throw new Error(`read as ${value}`);
};

export const TYPED_PARSERS: readonly Parser[] = [
  typed("position", POSITIONS, (one) => void checkLonLat(parsePosition(one, [10.1, 45.1]).lonLat)),
  typed("bearing", BEARINGS, (one) => finite(parseBearing(one))),
  typed("length", ["12 ft", "1.5 km", "300"], (one) => finite(parseLength(one, "m"))),
  typed("scale", ["1:25000", "1 to 50 000", "2.5 inches to the mile"], (one) => finite(parseScale(one))),
  typed("east or west", ["2° W", "1.5 E", "3° 20′ W"], (one) => finite(parseEastWest(one))),
  typed("definition of a grid", ["+proj=utm +zone=33 +ellps=GRS80 +units=m", "+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996 +x_0=400000 +y_0=-100000 +ellps=airy +towgs84=446.448,-125.157,542.06,0.15,0.247,0.842,-20.489"], (one) => void gridOf("Mine", one)), // prettier-ignore
  typed("what is looked for", [...POSITIONS, ...LEGS, "Start"], (one) => {
    const found = understand(one, asked);
    if (found.kind === "fault") throw found.fault;
    if (found.kind === "places") for (const { lonLat } of found.places) checkLonLat(lonLat);
  }),
  {
    name: "settings",
    stuff: "json",
    weight: 6,
    ofFile: false,
    seeds: () => [textSeed("settings.json", STORED)],
    read(seed) {
      const value = json(seed);
      const stored = (typeof value === "object" && value !== null ? value : {}) as Record<string, unknown>;
      const { preferences } = readPreferences(stored);
      // What was mended can be set as it is.
      changePreferences(preferences, preferences);
      readCaseNotes(stored["caseNotes"]);
      rememberedRolesIn(stored["mapRoles"]);
      recentPathsIn(stored["recentWalks"]);
    },
  },
  {
    name: "calls over the bridge",
    stuff: "json",
    weight: 12,
    ofFile: true,
    seeds: () =>
      (Object.keys(HOST_METHODS) as HostMethod[]).map((method) =>
        textSeed(method, JSON.stringify(BRIDGE[method] ?? ["a"])),
      ),
    read: (seed) => void checkArguments(seed.name as HostMethod, json(seed)),
  },
];
