/** What is to be printed, as plain data: it crosses from the window to its host, and to the thread that draws. */
import type { AdviceSettings } from "../legs/advice/advice-settings.ts";
import type { Compass } from "../legs/norths/bearing-to-set.ts";
import type { LegChoices } from "../legs/advice/aid-settings.ts";
import type { LengthUnit } from "../units/format.ts";
import type { Walk } from "../walk/walk.ts";
import type { PlacedFrame } from "./layout/sheet-plan.ts";
import type { PaperName } from "./page/paper-size.ts";
import type { BlankId } from "./tables/table-columns.ts";
import { type Tolerance, USUAL_TOLERANCE } from "./tables/tolerance.ts";

/** What can be printed, in the order of the pages. */
export const SHEET_PARTS = ["sheets", "table", "card", "pocket", "handout", "answers"] as const;
export type SheetPart = (typeof SHEET_PARTS)[number];

/** How field sheets are laid along the walk; `frames` placed by hand go before it. */
export const SHEET_WAYS = ["cover", "fit", "strips"] as const;
export type SheetWay = (typeof SHEET_WAYS)[number];

/** A grid of the user's by its definition, as `sheetGrid` takes it. */
export interface NamedDefinition {
  readonly name: string;
  readonly definition: string;
}

/** What only the person knows of those who go, as free text. Whatever is empty is a line to write on. */
export interface PrintParty {
  /** Set apart by commas, semicolons or lines: they are counted. */
  readonly names: string;
  readonly phone: string;
  readonly vehicle: string;
  readonly kit: string;
  /** Whom the holder of the card is to call. */
  readonly contact: string;
}

export const NO_PARTY: PrintParty = { names: "", phone: "", vehicle: "", kit: "", contact: "" };

/** Everything a person chooses on the print screen or on the command line. */
export interface PrintWish {
  readonly parts: readonly SheetPart[];
  readonly paper: PaperName;
  readonly landscape: boolean;
  /** Denominator of the field sheets; with "fit" it is found. */
  readonly scale: number;
  readonly way: SheetWay;
  /** Strips: the leg runs up the page, or grid north is up. */
  readonly up: "leg" | "north";
  /** Sheets placed by hand; null lays them out. */
  readonly frames: readonly PlacedFrame[] | null;
  /** Of several sheets, a page that shows how they lie. */
  readonly index: boolean;
  /** Null for UTM. */
  readonly grid: NamedDefinition | null;
  /** Grid lines on the sheets. */
  readonly gridLines: boolean;
  /** Millimetres between lines of magnetic north; null for none. */
  readonly magneticLinesMm: number | null;
  readonly roamer: boolean;
  readonly handrails: boolean;
  readonly backstops: boolean;
  readonly hazards: boolean;
  readonly cone: boolean;
  /** Columns of the leg table in order, by id; null takes the usual. */
  readonly columns: readonly string[] | null;
  readonly blanks: readonly BlankId[];
  readonly party: PrintParty;
  /** Columns that handout and answers ask for, by id; null takes the usual. */
  readonly hidden: readonly string[] | null;
  /** How far off an answer counts as right. */
  readonly tolerance: Tolerance;
  /** Odds, what would help and ways out, where papers tell them: about a second a leg. */
  readonly advice: boolean;
  readonly large: boolean;
  readonly blackAndWhite: boolean;
}

export const USUAL_WISH: PrintWish = {
  parts: ["sheets", "table"],
  paper: "a4",
  landscape: false,
  scale: 25_000,
  way: "cover",
  up: "north",
  frames: null,
  index: true,
  grid: null,
  gridLines: true,
  magneticLinesMm: null,
  roamer: false,
  handrails: false,
  backstops: false,
  hazards: false,
  cone: false,
  columns: null,
  blanks: [],
  party: NO_PARTY,
  hidden: null,
  tolerance: USUAL_TOLERANCE,
  advice: false,
  large: false,
  blackAndWhite: false,
};

/** Scales maps for walkers are printed at. */
export const USUAL_SCALES = [10_000, 12_000, 15_000, 24_000, 25_000, 50_000, 62_500, 63_360] as const;

/** A walk to be printed, and what its figures depend on besides the map. */
export interface SheetJob {
  readonly walk: Walk;
  readonly wish: PrintWish;
  readonly compass: Compass;
  readonly lengthUnit: LengthUnit;
  readonly choices: LegChoices;
  /** For odds and ways out on the papers that tell them. */
  readonly advice: AdviceSettings;
}
