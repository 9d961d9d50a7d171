/** The three menus of the upper slips: the walk and its file, what there is to do with map and compass, how it is shown. */
import { Fragment } from "preact";
import { words } from "../words/words.ts";
import type { Part } from "./choices.ts";
import { type Item, keysOf, keyText, refusalOf, run } from "./command.ts";
import { Menu, MenuGroup, MenuItem, MenuLine } from "./menu.tsx";
import { PAGE_MENUS, type PageMenu } from "./menu-table.ts";

const LABELS: Readonly<Record<PageMenu, string>> = {
  walk: words.bar.walkMenu,
  tools: words.bar.toolsMenu,
  view: words.bar.viewMenu,
};

export function CommandMenu({ menu }: { readonly menu: PageMenu }) {
  const parts = PAGE_MENUS[menu]
    .map((part) => ({ ...part, shown: part.items() }))
    .filter(({ shown }) => shown.length > 0);
  // What stands under one another in one column would not fit the window.
  const lines = parts.reduce((sum, { shown }) => sum + shown.length, 0);
  return (
    <Menu label={LABELS[menu]} test={`${menu}-menu`} wide={lines > MOST_LINES}>
      {parts.map(({ heading, shown }, i) => (
        <Fragment key={shown[0]?.id}>
          {i > 0 && !heading && <MenuLine />}
          <MenuPart heading={heading} items={shown} />
        </Fragment>
      ))}
    </Menu>
  );
}

/** Of a menu in one column. */
const MOST_LINES = 14;

function MenuPart({
  heading,
  items,
}: {
  readonly heading: Part["heading"];
  readonly items: readonly Item[];
}) {
  const lines = items.map((item) => (
    <MenuItem
      key={item.id}
      onPick={() => run(item)}
      keys={keyText(keysOf(item)[0])}
      refusal={refusalOf(item)}
      on={item.on?.()}
      oneOf={item.oneOf}
    >
      {item.name()}
    </MenuItem>
  ));
  return <MenuGroup heading={heading}>{lines}</MenuGroup>;
}
