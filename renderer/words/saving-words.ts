/** Words of unsaved work found again, earlier versions, and files that others write too. */
import type { WalkDifference } from "../../core/walk/compare-walks.ts";

const count = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

export const savingWords = {
  command: "Earlier versions…",
  versionsTitle: "Earlier versions",
  versionsLead:
    "Each time a walk is saved, the program keeps a copy in its own folder. Bringing one back changes the walk on the table, not the file, until you save.",
  walk: "Walk",
  gone: (name: string) => `${name} (the file is gone)`,
  inFolder: (name: string, folder: string) => `${name}, in ${folder}`,
  none: "Nothing was saved yet: versions are kept from the first save on.",
  most: "Versions kept of each walk",
  look: "Look",
  lookAway: "Look away",
  bringBack: "Bring back",
  close: "Close",
  unreadable: "It cannot be read.",
  broughtBack: (when: string) => `Bring back ${when}`,
  isBack: (when: string) =>
    `The walk is as it was on ${when}. Undo takes that back; Save writes it to the file.`,
  notKept: (why: string) => `The walk is saved, but no earlier version of it could be kept. ${why}`,

  foundTitle: "Unsaved work was found",
  foundLead: "The program ended before this was saved. Saved files are as they were.",
  when: (when: string) => `Kept ${when}`,
  ofFile: (name: string) => `of ${name}`,
  neverSaved: "never saved",
  takeUp: "Take it up",
  throwAway: "Throw it away",
  later: "Later",
  reallyTitle: (title: string) => `Throw away the unsaved work on “${title}”?`,
  reallyText: "It cannot be brought back. The saved file stays as it is.",
  really: "Throw it away",
  cannotKeep: (why: string) => `Unsaved work cannot be kept just now: save the walk soon. ${why}`,

  changedText:
    "Keep yours and the next save replaces what the other program wrote; an earlier version of that stays kept.",
  keepMine: "Keep mine",
  takeTheirs: "Take the file’s",
  saveAnother: "Save mine as another file",
  tookTheirs: "Take what is in the file",
  fileGone: (name: string) => `${name} is no longer where it was. Save writes it again.`,

  heldTitle: (name: string) => `${name} is open in another window`,
  heldText: "Only one window should write it. Here it can be looked at, and saved as another file.",
  onlyLook: "Only look",
  takeOver: "Write it from here",
  takenOver: (name: string) => `${name} is written from another window now. Save here asks for another name.`,

  /** Against what it is compared with: "2 points more, 1 moved; 5 legs, 1 more; 3.2 km, 400 m longer". */
  differs(by: WalkDifference, length: (metres: number) => string): string {
    const points = [
      by.added > 0 && `${count(by.added, "point", "points")} more`,
      by.gone > 0 && `${count(by.gone, "point", "points")} fewer`,
      by.moved > 0 && `${count(by.moved, "point", "points")} elsewhere`,
      by.renamed > 0 && `${count(by.renamed, "point", "points")} with another name`,
    ].filter(Boolean);
    const legs = `${count(by.legs, "leg", "legs")}${by.legsMore === 0 ? "" : `, ${Math.abs(by.legsMore)} ${by.legsMore > 0 ? "more" : "fewer"}`}`;
    const far = Math.abs(by.longerM) < 0.5;
    const long = `${length(by.lengthM)}${far ? "" : `, ${length(Math.abs(by.longerM))} ${by.longerM > 0 ? "longer" : "shorter"}`}`;
    const same = points.length === 0 && !by.other;
    const what = same ? "nothing" : [...points, by.other && "notes or settings"].filter(Boolean).join(", ");
    return `Differs: ${what}. It has ${legs}; ${long}.`;
  },
  differsFromTable: "Compared with the walk on the table.",
  differsFromFile: "Compared with the saved file.",
};
