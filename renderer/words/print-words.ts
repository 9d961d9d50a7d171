/** Words of the print screen and of the sheets' outlines on the map. */
import type { BlankId } from "../../core/sheet/tables/table-columns.ts";
import type { PrintParty, SheetPart, SheetWay } from "../../core/sheet/sheet-job.ts";
import type { PaperName } from "../../core/sheet/page/paper-size.ts";

const counted = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

export const printWords = {
  command: "Print…",
  title: "On paper",
  close: "Back to the walk",

  pages: {
    label: "The pages as they print",
    page: (n: number, all: number, title: string) => `Page ${n} of ${all}: ${title}`,
    before: "Page before",
    after: "Next page",
    keys: "Page Up and Page Down turn the pages, plus and minus zoom, 0 shows the whole page, arrow keys move over it.",
    nearer: "Nearer",
    farther: "Farther",
    whole: "Whole page",
    trueSize: "True size",
    making: "Drawing the pages …",
    makingOf: (done: number, all: number) => `Drawing the pages: ${done} of ${all} …`,
    stop: "Stop",
    stopped: "Drawing was stopped.",
    again: "Draw them",
    none: "Nothing is chosen to print. Tick at least one paper at the right.",
    failed: "The pages cannot be drawn so:",
    noWalk: "No walk yet: the sheet shows the map only.",
    noMap: "No map is open: the sheet shows the walk and its grid only.",
  },

  what: {
    heading: "What to carry",
    parts: {
      sheets: "field sheets, the map at true scale",
      table: "the leg table",
      card: "a route card, to leave with someone",
      pocket: "pocket cards, to fold",
      handout: "for a class: the leg table with its answers left out",
      answers: "for the teacher: the answers",
    } satisfies Record<SheetPart, string>,
    advice: "on these with odds, what would help and ways out: about a second a leg",
    needsWalk: "Draw a leg first",
  },

  paper: {
    heading: "Paper",
    on: "On",
    paper: "Paper",
    names: {
      a5: "A5",
      a4: "A4",
      a3: "A3",
      letter: "Letter",
      legal: "Legal",
      tabloid: "Tabloid",
    } satisfies Record<PaperName, string>,
    lies: "How it lies",
    upright: "upright",
    across: "on its long side",
    large: "large type, 14 points",
    blackAndWhite: "black and white only",
  },

  sheets: {
    heading: "Field sheets",
    at: "At",
    scale: "Scale: such as 1:25 000, or 1 inch = 2000 feet",
    usual: "one of the usual scales",
    otherScale: "a usual scale …",
    perKm: (mm: string) => `1 km is ${mm} mm on the sheet.`,
    ways: {
      cover: "as many sheets as the walk needs",
      fit: "the whole walk on one sheet, at the scale that fits",
      strips: "a sheet for each leg",
    } satisfies Record<SheetWay, string>,
    placed: (n: number) => `${counted(n, "sheet", "sheets")} where I put ${n === 1 ? "it" : "them"}`,
    up: "What is up on it",
    upLeg: "with the leg running up the page",
    upNorth: "with grid north up",
    move: "Move the sheets on the map…",
    index: "an index that shows how the sheets lie",
  },

  show: {
    heading: "On the sheets",
    gridLines: "grid lines of",
    grid: "Grid",
    utm: "UTM",
    magnetic: (every: string) => `lines of magnetic north every ${every}`,
    magneticEvery: "Distance of the lines of magnetic north",
    magneticLead: "lines of magnetic north, every",
    handrails: "lines to follow",
    backstops: "lines that stop you",
    hazards: "what to mind",
    cone: "how far one may drift",
    roamer: "a roamer, to read grid references",
  },

  table: {
    heading: "Leg table",
    usual: "with the usual columns",
    own: "with these columns, in this order:",
    list: "Columns of the leg table, in order",
    column: (name: string, n: number, all: number) => `${name}, column ${n} of ${all}`,
    columnKeys: "Arrow keys go along the columns; with Alt they move the column; Delete takes it out.",
    earlier: (name: string) => `Move ${name} up`,
    later: (name: string) => `Move ${name} down`,
    remove: (name: string) => `Take out ${name}`,
    add: "Add a column …",
    blanksLead: "Boxes to write in on the way:",
    blanks: {
      actualTime: "the time it really took",
      actualCount: "the paces really counted",
      blank: "remarks",
    } satisfies Record<BlankId, string>,
  },

  card: {
    heading: "Route card",
    party: {
      names: "Names, with commas between",
      phone: "Phones carried",
      vehicle: "Vehicle, and where it stands",
      kit: "Kit",
      contact: "Whom to call first, and their number",
    } satisfies Record<keyof PrintParty, string>,
    fill: "What is left empty is a line to write on. It stays on this computer, for the next card.",
  },

  handout: {
    heading: "For a class",
    asks: "The learner works out:",
    asked: (id: string, heading: string) => (id === "other" ? `${heading} bearing` : heading),
    tolerance: {
      bearing: ["An answer counts as right within", "of the bearing,"],
      share: ["", "of the distance"],
      distance: ["or", "if that is more,"],
      paces: ["", "of the paces, and"],
      height: ["", "of climb or descent, or the map’s contour interval if that is more."],
    },
    labels: {
      bearing: "How far a bearing may be off, in degrees",
      share: "How far a distance may be off, in per cent",
      distance: "How far a distance may always be off",
      paces: "How far paces may be off, in per cent",
      height: "How far climb or descent may be off",
    },
    refused: (most: string) => `Give a figure from 0 to ${most}.`,
    noFigure: (text: string) => `“${text}” does not say how far off an answer may be.`,
  },

  notes: "Before you print",

  save: {
    pdf: "Save PDF…",
    svg: "Save SVG…",
    print: "Print…",
    pdfTitle: "Save the pages as PDF",
    svgTitle: "Save the pages as SVG",
    working: "Writing the file …",
    done: (name: string) => `${name} is written.`,
    trueSize:
      "Print the PDF at 100 % (“actual size”), then lay a ruler on its check line: shrunken paper measures wrong.",
    printed: "The pages were sent to the printer. Lay a ruler on the check line before you rely on them.",
  },

  placing: {
    label: "Sheets on the map",
    lead: (n: number, scale: string) => `${counted(n, "sheet", "sheets")} at ${scale}.`,
    fits: "The whole walk lies on them.",
    fitsOne: "The whole walk lies on it.",
    empty: "There is no walk yet.",
    add: "Add a sheet",
    anew: "Lay them out anew",
    done: "Done",
    handle: (n: number, all: number) => `Sheet ${n} of ${all}`,
    keys: "Drag a sheet, or move it with the arrow keys by 10 mm of paper, with Shift by 1. Delete takes it away.",
    most: "There are as many sheets as can be.",
  },
};
