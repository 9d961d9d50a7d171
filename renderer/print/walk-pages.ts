/** The pages of the walk on the print screen. */
import { formatWalk } from "../../core/walk/walk-file.ts";
import { settings } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { walk } from "../walk-state/walk-document.ts";
import { pagesInStep } from "./pages-in-step.ts";
import { wish } from "./print-state.ts";

export const walkPages = pagesInStep(() => {
  const order = {
    walk: formatWalk(walk.value),
    mapId: openMap.value?.opened.id ?? null,
    wish: wish.value,
  };
  // Compass, units and aids are read by the host; a change of theirs asks anew.
  const { compass: _compass, lengths: _lengths, lengthUnit: _unit, aids: _aids } = settings.value;
  return order.wish.parts.length > 0 ? order : null;
});
