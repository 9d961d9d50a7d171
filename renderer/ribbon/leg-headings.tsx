/** Over each leg of the ribbon its figures, as many as fit; under each division the point's label. */
import type { LegFigures } from "../../core/legs/figures.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { formatBearing } from "../../core/units/format.ts";
import { lengthUnit } from "../app/settings.ts";
import { walk } from "../walk-state/walk-document.ts";
import { bearingOn, climbText } from "../words/figure-words.ts";
import { words } from "../words/words.ts";
import { longestThatFits } from "./label-layout.ts";
import type { RibbonBox, RibbonScale } from "./ribbon-scale.ts";
import { textWidth } from "./text-width.ts";
import type { WalkProfile } from "./walk-profile.ts";

interface Props {
  readonly legs: readonly LegFigures[];
  readonly profile: WalkProfile;
  readonly scale: RibbonScale;
  readonly box: RibbonBox;
  readonly rem: number;
  readonly height: number;
  /** Only the headings, for a ribbon of one line. */
  readonly oneLine: boolean;
}

const FAMILY = '"Atkinson Hyperlegible Next", "Noto Sans", sans-serif';

export function LegHeadings({ legs, profile, scale, box, rem, height, oneLine }: Props) {
  const unit = lengthUnit.value;
  const north = walk.value.north;
  const strong = `700 ${rem * 0.95}px ${FAMILY}`;
  const plain = `400 ${rem * 0.8}px ${FAMILY}`;
  const labelFont = `700 ${rem * 0.8}px ${FAMILY}`;
  let lastLabelEnd = -Infinity;
  const ends = [...profile.legs.map((leg) => ({ label: leg.from, at: leg.startM })), ...profile.legs.slice(-1).map((leg) => ({ label: leg.to, at: leg.endM }))];

  return (
    <g class="leg-headings" aria-hidden="true">
      {profile.legs.map((leg) => {
        const figures = legs[leg.leg];
        if (!figures) return null;
        const room = scale.x(leg.endM) - scale.x(leg.startM) - 0.75 * rem;
        const bearing = formatBearing(bearingOn(figures, north));
        const bearingWidth = textWidth(bearing, strong);
        if (bearingWidth > room + 0.5 * rem) return null;
        const parts = [words.northShort[north], formatAlong(figures.distanceM, unit), climbText(figures.climbM, figures.descentM, unit)].filter(Boolean);
        const rest = longestThatFits(
          [parts, parts.slice(0, 2), parts.slice(0, 1)].map((some) => ` ${some.join(" · ")}`),
          room - bearingWidth,
          (text) => textWidth(text, plain),
        );
        return (
          <text key={leg.leg} class="leg-heading" x={(scale.x(leg.startM) + scale.x(leg.endM)) / 2} y={oneLine ? height / 2 + 0.3 * rem : 1.25 * rem} text-anchor="middle">
            <tspan class="leg-bearing">{bearing}</tspan>
            <tspan>{rest.replace(/^ /, "\u00a0")}</tspan>
          </text>
        );
      })}
      {ends.map(({ label, at }, i) => {
        const x = scale.x(at);
        const half = textWidth(label, labelFont) / 2;
        const fits = x - half > lastLabelEnd + 0.35 * rem;
        if (fits) lastLabelEnd = x + half;
        return (
          <g key={i} class="leg-division">
            <line x1={x} x2={x} y1={oneLine ? 0 : 1.75 * rem} y2={oneLine ? height : box.bottom} />
            {fits && !oneLine && (
              <text x={x} y={height - 0.5 * rem} text-anchor="middle">
                {label}
              </text>
            )}
          </g>
        );
      })}
    </g>
  );
}
