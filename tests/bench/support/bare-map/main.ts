/** The map of the window and nothing else: same style, same archives, same reader; what the window is compared with. */
import "../../../../renderer/theme/fonts.css";
import "../../../../renderer/theme/tokens.css";
import "./bare.css";
import { loadSettings } from "../../../../renderer/app/settings.ts";
import { mapEntries, openMapById, refreshMapCase } from "../../../../renderer/map-case/map-case.ts";
import { tellWhenBusy } from "../../../../renderer/map/busy.ts";
import { putMapOn } from "../../../../renderer/map/map-canvas.ts";
import { mapView } from "../../../../renderer/map/view-state.ts";
import { keepWholeWalkInView } from "../../../../renderer/map/whole-view.ts";
import { wearTheme } from "../../../../renderer/theme/theme.ts";

wearTheme();
const holder = document.getElementById("map") as HTMLElement;
putMapOn(holder);
const map = mapView.value;
if (map) {
  keepWholeWalkInView(map);
  tellWhenBusy(map, holder);
}
await loadSettings();
await refreshMapCase();
const first = mapEntries.value.find((entry) => entry.fault === null);
if (first) await openMapById(first.id);
// As the window shows it by its scale bar.
holder.classList.add("opened");
