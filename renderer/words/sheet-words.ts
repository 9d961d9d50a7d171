/** Words about a scanned sheet that lies under the walk, and about the map it gets its ground from. */
import type { Settings } from "../../electron/contract.ts";

export const sheetWords = {
  groundFrom: "Contours, heights and figures from",
  groundOf: (title: string) => `Contours, heights and figures under ${title} from`,
  noGroundChoice: "no map: the sheet alone",
  noOther: "There is no other map in the case: make or add one that covers the sheet, and legs get heights.",
  isGround: "ground of the open sheet",
  onGround: (title: string) => `Ground from ${title}`,
  noGround: "No map under this sheet: no heights, nothing to cross",
  groundFails: (what: string, title: string) => `${title} cannot be opened under the sheet: ${what}`,

  heading: "Scanned sheet",
  strengths: {
    full: "Full",
    half: "Half as strong",
    faint: "Faint",
    hidden: "Hidden",
  } satisfies Record<Settings["sheetStrength"], string>,
  lines: "Lines and names of the map over it",
  command: "Scanned sheet stronger or fainter",
  now: (strength: string) => `Scanned sheet: ${strength.toLowerCase()}`,
  noSheet: "No scanned sheet is open",

  damaged: (title: string) =>
    `Some pictures of ${title} cannot be read and are left blank. Copy the file again or make it anew.`,
  mixed: (title: string) =>
    `The pictures of ${title} differ in size: parts of it may look coarser than others.`,

  paperGround: (title: string) =>
    `Paper shows the map ${title} with the walk; the scanned sheet is not printed.`,
  paperBare:
    "A scanned sheet is not printed, and no map lies under it: the sheet of paper shows the walk and its grid only.",
};
