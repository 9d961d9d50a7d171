/** Which commands stand in which menu: the page's menus and a system's are made of the same parts. */
import { adviceWords } from "../words/advice-words.ts";
import { menuWords } from "../words/menu-words.ts";
import { words } from "../words/words.ts";
import { NORTH, NOTATION, OVER_THE_MAP, type Part, sheetPart, TEXT, THEME, UNITS } from "./choices.ts";
import { allCommands, type CommandId, itemOf } from "./commands.ts";
import type { Item } from "./command.ts";
import { recentItems } from "./recent.ts";

const of = (...ids: readonly CommandId[]): Part => ({ items: () => ids.map(itemOf) });
const joined = (...parts: readonly Part[]): Part => ({ items: () => parts.flatMap((part) => part.items()) });
const under = (heading: string, ...parts: readonly Part[]): Part => ({ heading, ...joined(...parts) });

const START = of("new", "open", "import", "open-demo");
const RECENT = under(menuWords.recent.heading, { items: recentItems });
const KEEP = of("save", "save-as", "versions", "export", "export-csv", "print");
const STEPS = of("undo", "redo");
const WHOLE = of("reverse", "beside");
const TOOLS = [
  under(words.bar.toolsGround, of("ground", "landmarks", "fix")),
  under(words.bar.toolsSums, of("courses", "drills", "small-ground", "scoring", "sums")),
  under(words.bar.toolsMaps, of("maps", "make-map", "roles")),
];
const CHOSEN = [NORTH, UNITS, NOTATION, sheetPart(() => itemOf("sheet"))];
const OVER: Part = { items: () => OVER_THE_MAP };
const MAP = of("slope", "turn", "tilt");
const SCREEN = of("full-screen");
const SETTINGS = of("settings");
const HELP = of("cautions", "about");

export type PageMenu = "walk" | "tools" | "view";

/** The menus on the slips; parts without a heading are set apart by lines. */
export const PAGE_MENUS: Readonly<Record<PageMenu, readonly Part[]>> = {
  walk: [START, KEEP, joined(STEPS, WHOLE), RECENT],
  tools: TOOLS,
  view: [
    THEME,
    TEXT,
    ...CHOSEN,
    under(adviceWords.view.heading, OVER, MAP),
    under(words.view.program, SCREEN, SETTINGS, HELP),
  ],
};

/** The menus a system draws; those with a heading open beside it. */
export const SYSTEM_MENUS: Readonly<Record<"file" | "edit" | "view" | "tools", readonly Part[]>> = {
  file: [START, RECENT, KEEP],
  edit: [STEPS, WHOLE, of("find")],
  view: [
    THEME,
    under(words.view.textSize, TEXT, of("text-larger", "text-smaller", "text-usual")),
    ...CHOSEN,
    OVER,
    MAP,
    SCREEN,
  ],
  tools: TOOLS,
};

/** Everything that can be done by name: all commands, and all that menus choose among. */
export function everyItem(): readonly Item[] {
  const commands = allCommands();
  const known = new Set(commands.map(({ id }) => id));
  const others = Object.values(SYSTEM_MENUS).flatMap((parts) => parts.flatMap((part) => part.items()));
  return [...commands, ...others.filter(({ id }) => !known.has(id))];
}
