/** Entry of the window: only wires. */
import { render } from "preact";
import "./theme/fonts.css";
import "./theme/tokens.css";
import "./theme/base.css";
import "./app/window.css";
import "./app/bar.css";
import "./dialogs/dialogs.css";
import "./map/map.css";
import "./ribbon/ribbon.css";
import "./slip/slip.css";
import "./table/table.css";
import "./theme/contrast.css";
import { keepFigureStyle } from "./app/figure-style.ts";
import { keepOneSlip } from "./app/one-slip.ts";
import { listen, start } from "./app/start.ts";
import { Window } from "./app/window.tsx";
import { wearTheme } from "./theme/theme.ts";

wearTheme();
keepFigureStyle();
keepOneSlip();
listen();
const root = document.getElementById("window");
if (root) render(<Window />, root);
void start();
