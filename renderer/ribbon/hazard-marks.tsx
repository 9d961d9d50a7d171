/** Dangers on the ribbon: hatched just under the ground where they are, with a word and a side where there is room. */
import type { LegFigures } from "../../core/legs/figures.ts";
import { adviceWords } from "../words/advice-words.ts";
import { groundPath } from "./ground-path.ts";
import { hazardStretches } from "./hazard-stretches.ts";
import { longestThatFits } from "./label-layout.ts";
import type { RibbonBox, RibbonScale } from "./ribbon-scale.ts";
import { textWidth } from "./text-width.ts";
import { groundBetween, type WalkProfile } from "./walk-profile.ts";

interface Props {
  readonly legs: readonly LegFigures[];
  readonly profile: WalkProfile;
  readonly scale: RibbonScale;
  readonly box: RibbonBox;
  readonly rem: number;
}

const FAMILY = '"Atkinson Hyperlegible Next", "Noto Sans", sans-serif';
/** Depth of the hatching under the ground, in the text's size. */
const DEPTH = 0.55;
/** The least between ground and foot for a word under it. */
const ROOM = 1.4;

export function HazardMarks({ legs, profile, scale, box, rem }: Props) {
  const font = `400 ${rem * 0.75}px ${FAMILY}`;
  const stretches = hazardStretches(legs, adviceWords.ribbon.hazard);
  return (
    <g class="ribbon-hazards" data-test="ribbon-hazards">
      <defs>
        <pattern
          id="hatch-ribbon"
          width="5"
          height="5"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path d="M0 0V5" class="hatch" />
        </pattern>
      </defs>
      {stretches.map(({ fromM, toM, versions }, i) => {
        const [x0, x1] = [scale.x(fromM), scale.x(toM)];
        const pieces = groundBetween(profile, fromM, toM);
        const lowest = Math.max(...pieces.flat().map(([, height]) => scale.y(height)));
        // Where the ground lies at the foot of the ribbon the word would stand among the crossings' dots.
        const room = box.bottom - lowest > ROOM * rem ? x1 - x0 : 0;
        const text = longestThatFits([...versions, ""], room, (one) => textWidth(one, font));
        return (
          <g key={i}>
            {pieces.map((piece, k) => (
              <path key={k} d={bandUnder(piece, scale, DEPTH * rem, box.bottom)} fill="url(#hatch-ribbon)" />
            ))}
            {text !== "" && (
              <text x={(x0 + x1) / 2} y={box.bottom - 0.3 * rem} text-anchor="middle">
                {text}
              </text>
            )}
          </g>
        );
      })}
    </g>
  );
}

type Piece = readonly (readonly [number, number])[];

/** Along the ground and back below it, not below the foot of the ribbon. */
function bandUnder(piece: Piece, scale: RibbonScale, depth: number, bottom: number): string {
  const back = piece
    .toReversed()
    .map(
      ([at, height]) => `L${scale.x(at).toFixed(1)} ${Math.min(bottom, scale.y(height) + depth).toFixed(1)}`,
    );
  return `M${groundPath(piece, scale)}${back.join("")}Z`;
}
