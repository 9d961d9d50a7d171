/** Over each leg of the ribbon its figures, as many as fit; under each division the point's label. */
import type { LegFigures } from "../../core/legs/figures.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { pointLetter } from "../../core/walk/walk.ts";
import { isLowLeg } from "../advice/low-odds.tsx";
import { adviceWords } from "../words/advice-words.ts";
import { lengthUnit, settings } from "../app/settings.ts";
import { shownLeg } from "../walk-state/selection.ts";
import { walk } from "../walk-state/walk-document.ts";
import { bearingParts, climbText } from "../words/figure-words.ts";
import { placeHeadings } from "./heading-layout.ts";
import { placePointLabels } from "./point-labels.ts";
import type { RibbonBox, RibbonScale } from "./ribbon-scale.ts";
import { textWidth } from "./text-width.ts";
import type { WalkProfile } from "./walk-profile.ts";

/** As many of the parts as there is room for, the fewest last. */
const shorter = (parts: readonly string[]): readonly (readonly string[])[] => [
  parts,
  parts.slice(0, 2),
  parts.slice(0, 1),
  [],
];

/** Low odds are told before the distance is. */
const withLow = ([north, ...rest]: readonly string[]): readonly (readonly string[])[] => {
  const first = north === undefined ? [] : [north];
  return [[...first, adviceWords.low, ...rest], [...first, adviceWords.low], [adviceWords.low], first, []];
};

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
  const ends = [
    ...profile.legs.map((leg) => ({ label: leg.from, at: leg.startM })),
    ...profile.legs.slice(-1).map((leg) => ({ label: leg.to, at: leg.endM })),
  ];

  const headings = placeHeadings(
    profile.legs.flatMap((leg) => {
      const figures = legs[leg.leg];
      if (!figures) return [];
      const set = bearingParts(figures, north, settings.value.compass);
      const parts = [
        set.north,
        formatAlong(figures.distanceM, unit),
        climbText(figures.climbM, figures.descentM, unit),
      ].filter(Boolean);
      return [
        {
          leg: leg.leg,
          x0: scale.x(leg.startM),
          x1: scale.x(leg.endM),
          bearing: set.bearing,
          // The no-break space keeps bearing and north together.
          rests: (isLowLeg(leg.leg) ? withLow(parts) : shorter(parts)).map((some) =>
            some.length > 0 ? `\u00a0${some.join(" · ")}` : "",
          ),
        },
      ];
    }),
    shownLeg.value,
    { bearing: (text) => textWidth(text, strong), rest: (text) => textWidth(text, plain) },
    { left: 0.5 * rem, right: box.right + (oneLine ? -0.5 : 0.75) * rem, gap: 0.75 * rem },
  );
  const labels = placePointLabels(
    ends.map(({ label, at }, i) => ({ versions: [label, pointLetter(i)], x: scale.x(at) })),
    (text) => textWidth(text, labelFont),
    { left: 0.5 * rem, right: box.right + rem, gap: 0.6 * rem },
  );

  return (
    <g class="leg-headings" aria-hidden="true">
      {headings.map(({ leg, middle, bearing, rest }) => (
        <text
          key={leg}
          class="leg-heading"
          x={middle}
          y={oneLine ? height / 2 + 0.3 * rem : 1.25 * rem}
          text-anchor="middle"
        >
          <tspan class="leg-bearing">{bearing}</tspan>
          <tspan>{rest}</tspan>
        </text>
      ))}
      {ends.map(({ at }, i) => (
        <line
          key={i}
          class="leg-division"
          x1={scale.x(at)}
          x2={scale.x(at)}
          y1={oneLine ? 0 : 1.75 * rem}
          y2={oneLine ? height : box.bottom}
        />
      ))}
      {!oneLine &&
        labels.map(({ text, middle, key }) => (
          <text key={key} class="point-label" x={middle} y={height - 0.5 * rem} text-anchor="middle">
            {text}
          </text>
        ))}
    </g>
  );
}
