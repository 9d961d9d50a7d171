/** Everything the window can be told to do: one table with names, keys and the reasons why not. Menus, keys, find box and host go by it. */
import { reverseWalk } from "../../core/walk/edits.ts";
import { TEXT_SIZES } from "../../electron/contract.ts";
import { openBeside } from "../beside/beside-state.ts";
import { courseOpen } from "../course/course-state.ts";
import { ask } from "../dialogs/dialogs.ts";
import { openFix } from "../fix/open-fix.ts";
import { openFind } from "../find/find-state.ts";
import { host } from "../host/host.ts";
import { mapWords } from "../words/map-words.ts";
import { openMap } from "../map-case/map-case.ts";
import { sheetRefusal, stepSheet } from "../map-case/sheet-strength.ts";
import { sheetWords } from "../words/sheet-words.ts";
import { askGroundHere, askLandmarksHere } from "../place/place-state.ts";
import { slopeRefusal, slopeWanted, toggleSlope } from "../slope/slope-shading.ts";
import { placeWords } from "../words/place-words.ts";
import { slopeWords } from "../words/slope-words.ts";
import { openImport } from "../exchange/take-foreign.ts";
import { exchangeWords } from "../words/exchange-words.ts";
import { shownLegDeg, tilted, toggleTilt, turned, turnToLeg } from "../map/turn.ts";
import { exportCsv } from "../print/export-csv.ts";
import { placing } from "../print/print-state.ts";
import { printWords } from "../words/print-words.ts";
import {
  edit,
  redoEdit,
  redoStep,
  undoEdit,
  undoStep,
  unsaved,
  walk,
  walkFile,
} from "../walk-state/walk-document.ts";
import { besideWords } from "../words/beside-words.ts";
import { aboutWords } from "../words/about-words.ts";
import { courseWords } from "../words/course-words.ts";
import { drillWords } from "../words/drill-words.ts";
import { fieldWords } from "../words/field-words.ts";
import { fixWords } from "../words/fix-words.ts";
import { findWords } from "../words/find-words.ts";
import { savingWords } from "../words/saving-words.ts";
import { menuWords } from "../words/menu-words.ts";
import { rolesWords } from "../words/roles-words.ts";
import { settingsWords } from "../words/settings-words.ts";
import { sumsWords } from "../words/sums-words.ts";
import { words } from "../words/words.ts";
import { type Command, type Item, run } from "./command.ts";
import { changeSettings, settings } from "./settings.ts";
import { openDemoWalk, newWalk, openWalk, saveWalk, saveWalkAs } from "./walk-files.ts";

const needsLeg = (): string | null => (walk.value.points.length < 2 ? words.bar.needsLeg : null);

const needsMap = (): string | null => (openMap.value ? null : placeWords.noMap);

/** Escape leaves it again, as everywhere. */
async function toggleFullScreen(): Promise<void> {
  if (await host.fillScreen()) return;
  await (document.fullscreenElement
    ? document.exitFullscreen()
    : document.documentElement.requestFullscreen());
}

/** The size of text so many steps from now; null where there is none. */
const textSize = (steps: number): number | null =>
  TEXT_SIZES[TEXT_SIZES.findIndex((one) => one === settings.value.textSize) + steps] ?? null;

const setTextSize = (size: number | null): void => {
  if (size !== null) changeSettings({ textSize: size });
};

const TABLE = {
  new: { name: () => words.bar.newWalk, keys: ["alt+n"], shellKey: "n", run: newWalk },
  open: { name: () => words.bar.open, keys: ["o"], run: openWalk },
  "open-demo": { name: () => words.bar.openDemo, run: openDemoWalk },
  save: {
    name: () => words.bar.save,
    keys: ["s"],
    refusal: () => (unsaved.value || !walkFile.value ? null : words.bar.nothingToSave),
    run: saveWalk,
  },
  "save-as": { name: () => words.bar.saveAs, keys: ["shift+s"], run: saveWalkAs },
  versions: { name: () => savingWords.command, run: () => ask("versions", null) },
  print: {
    name: () => printWords.command,
    keys: ["p"],
    run: () => {
      placing.value = false;
      return ask("print", null);
    },
  },
  "export-csv": { name: () => words.bar.exportCsv, refusal: needsLeg, run: exportCsv },
  import: { name: () => exchangeWords.in.command, keys: ["i"], run: openImport },
  export: {
    name: () => exchangeWords.out.command,
    keys: ["e"],
    refusal: () => (walk.value.points.length === 0 ? words.bar.needsLeg : null),
    run: () => ask("export", null),
  },
  undo: {
    name: () => (undoStep.value === null ? words.bar.undo : words.bar.undoStep(undoStep.value)),
    keys: ["z"],
    refusal: () => (undoStep.value === null ? words.bar.nothingToUndo : null),
    run: undoEdit,
  },
  redo: {
    name: () => (redoStep.value === null ? words.bar.redo : words.bar.redoStep(redoStep.value)),
    keys: ["shift+z", "y"],
    refusal: () => (redoStep.value === null ? words.bar.nothingToRedo : null),
    run: redoEdit,
  },
  reverse: {
    name: () => words.bar.reverse,
    refusal: needsLeg,
    run: () => edit(words.steps.reverse, reverseWalk),
  },
  find: { name: () => findWords.command, keys: ["f"], run: openFind },
  slope: {
    name: () => (slopeWanted.value ? slopeWords.hide : slopeWords.command),
    keys: ["shift+g"],
    refusal: () => slopeRefusal.value,
    run: toggleSlope,
  },
  sheet: { name: () => sheetWords.command, keys: ["shift+k"], refusal: sheetRefusal, run: stepSheet },
  ground: { name: () => placeWords.command, keys: ["g"], refusal: needsMap, run: askGroundHere },
  landmarks: {
    name: () => placeWords.landmarksCommand,
    keys: ["shift+l"],
    refusal: needsMap,
    run: askLandmarksHere,
  },
  fix: { name: () => fixWords.command, run: openFix },
  courses: {
    name: () => courseWords.command,
    keys: ["alt+p"],
    refusal: needsMap,
    run: () => void (courseOpen.value = true),
  },
  drills: { name: () => drillWords.command, refusal: needsMap, run: () => ask("drills", null) },
  "small-ground": { name: () => fieldWords.command, run: () => ask("small-ground", null) },
  scoring: { name: () => fieldWords.score.command, run: () => ask("scoring", null) },
  sums: { name: () => sumsWords.command, keys: ["shift+m"], run: () => ask("sums", null) },
  settings: { name: () => settingsWords.command, keys: [","], run: () => ask("settings", null) },
  maps: { name: () => mapWords.title, run: () => ask("maps", null) },
  "make-map": { name: () => mapWords.make, run: () => ask("make-map", null) },
  roles: { name: () => rolesWords.command, refusal: needsMap, run: () => ask("roles", null) },
  beside: { name: () => besideWords.command, keys: ["shift+b"], run: openBeside },
  turn: {
    name: () => (turned.value ? words.map.northUp : words.map.turnToLeg),
    keys: ["shift+u"],
    refusal: () => (turned.value || shownLegDeg.value !== null ? null : words.bar.needsLeg),
    run: turnToLeg,
  },
  tilt: {
    name: () => (tilted.value ? words.map.fromAbove : words.map.tilt),
    refusal: needsMap,
    run: toggleTilt,
  },
  "text-larger": {
    name: () => menuWords.text.larger,
    keys: ["+", "=", "shift++"],
    refusal: () => (textSize(1) === null ? menuWords.text.largest : null),
    run: () => setTextSize(textSize(1)),
  },
  "text-smaller": {
    name: () => menuWords.text.smaller,
    keys: ["-"],
    refusal: () => (textSize(-1) === null ? menuWords.text.smallest : null),
    run: () => setTextSize(textSize(-1)),
  },
  "text-usual": { name: () => menuWords.text.usual, keys: ["0"], run: () => setTextSize(TEXT_SIZES[0]) },
  "full-screen": { name: () => words.view.fullScreen, shellKey: "f11", run: toggleFullScreen },
  about: { name: () => aboutWords.command, run: () => ask("about", null) },
  cautions: { name: () => words.view.cautions, run: () => ask("cautions", null) },
} as const satisfies Readonly<Record<string, Command>>;

export type CommandId = keyof typeof TABLE;
export const COMMANDS: Readonly<Record<CommandId, Command>> = TABLE;

export const itemOf = (id: CommandId): Item => ({ id, ...COMMANDS[id] });
export const allCommands = (): readonly Item[] => (Object.keys(COMMANDS) as CommandId[]).map(itemOf);

export const runCommand = (id: CommandId): void => run(COMMANDS[id]);
