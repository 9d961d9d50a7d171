/** The bearing to set: the largest figure on the screen, with its north in words and the other norths beside it. */
import {
  bearingOn,
  bearingToSet,
  type BearingToSet,
  type Compass,
  formatOn,
} from "../../core/legs/norths/bearing-to-set.ts";
import type { LegFigures } from "../../core/legs/figures.ts";
import { ABSENT, formatBearing, formatNumber } from "../../core/units/format.ts";
import { formatMils } from "../../core/units/mils.ts";
import { formatQuadrant } from "../../core/units/quadrant.ts";
import type { North } from "../../core/walk/walk.ts";
import { chooseNorth, NORTHS } from "../app/north.ts";
import { settings } from "../app/settings.ts";
import { walk } from "../walk-state/walk-document.ts";
import { chooseAimOff } from "../advice/apply.ts";
import { adviceWords } from "../words/advice-words.ts";
import { settingsWords } from "../words/settings-words.ts";
import { words } from "../words/words.ts";
import { CompassFace } from "./compass-face.tsx";
import { Ask, HowPanel } from "./how.tsx";

/** Between the compass's marks, as it is measured on a map. */
function betweenMarks({ unit }: Compass, degrees: number | null): string {
  if (unit === "mils") return formatMils(degrees, 1);
  return unit === "quadrant" ? formatQuadrant(degrees, 0.1) : formatBearing(degrees, { graduationDeg: 0.1 });
}

export function Bearing({ leg }: { readonly leg: LegFigures }) {
  const { compass } = settings.value;
  const { north } = walk.value;
  const set = bearingToSet(leg, compass, north);
  return (
    <>
      <div class="slip-bearing">
        <CompassFace compass={compass} set={set} />
        <div>
          <p class={`bearing-to-set ${compass.unit}`}>
            <Ask figure="bearing" group="bearing">
              <BigFigure set={set} />
            </Ask>
          </p>
          <p class="bearing-words" data-test="bearing-words">
            {set.text === ABSENT ? set.words : afterFigure(set)}
          </p>
          <ul class="bearing-others soft">
            {NORTHS.filter((one) => one !== set.north).map((one) => (
              <li key={one} data-test={`bearing-${one}`}>
                {words.slip.lines[one](betweenMarks(compass, bearingOn(leg, one)))}
              </li>
            ))}
            <li data-test="bearing-back">
              {words.slip.lines.back(set.backDeg === null ? ABSENT : formatOn(compass, set.backDeg))}
            </li>
          </ul>
        </div>
      </div>
      <AimsOff leg={leg} />
      <p class="soft north-choice">
        {settingsWords.slip.workedFrom}{" "}
        <select
          aria-label={words.northGroup}
          title={words.northGroup}
          value={north}
          data-test="north"
          onChange={(event) => chooseNorth(event.currentTarget.value as North)}
        >
          {NORTHS.map((one) => (
            <option key={one} value={one}>
              {words.north[one]}
            </option>
          ))}
        </select>{" "}
        {settingsWords.slip.north}
      </p>
      <HowPanel group="bearing" of={["bearing"]} leg={leg} />
    </>
  );
}

/** Where the leg is walked past its target on purpose: how far, and back to straight with one click. */
function AimsOff({ leg }: { readonly leg: LegFigures }) {
  const at = leg.n - 1;
  if (!walk.value.points[at]?.aimOff) return null;
  const { aimOff } = leg;
  return (
    <p class="aims-off" data-test="aims-off">
      {aimOff
        ? adviceWords.aimsOff(`${formatNumber(aimOff.offsetDeg)}°`, aimOff.side)
        : adviceWords.aimOffGone}{" "}
      <button type="button" class="link" data-test="go-straight" onClick={() => chooseAimOff(at, false)}>
        {adviceWords.straight}
      </button>
    </p>
  );
}

/** "910" large and "mils" small; "N 51° E" and "51°" as they are. */
function BigFigure({ set }: { readonly set: BearingToSet }) {
  const [figure, unit] = set.text.endsWith("mils") ? set.text.split("\u00a0") : [set.text];
  return (
    <span data-test="bearing">
      {figure}
      {unit && <small>{`\u00a0${unit}`}</small>}
    </span>
  );
}

/** "magnetic, to set", or with what must be set on the compass first: the figure itself stands above. */
const afterFigure = ({ words: text, text: figure, north, adjustmentDeg }: BearingToSet): string =>
  adjustmentDeg === null
    ? `${words.north[north]}${words.slip.toSet}`
    : text.replace(`set ${figure} `, "").replace(" with ", words.slip.toSet + ", with ");
