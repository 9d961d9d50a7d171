/** What the walk crosses, as dots on the ground's line, labelled where there is room. */
import type { Kind } from "../../core/map/kinds.ts";
import { thingName } from "../words/kind-words.ts";
import { placeLabels } from "./label-layout.ts";
import type { RibbonBox, RibbonScale } from "./ribbon-scale.ts";
import { textWidth } from "./text-width.ts";
import { heightAt, type RibbonCrossing, type WalkProfile } from "./walk-profile.ts";

interface Props {
  readonly profile: WalkProfile;
  readonly scale: RibbonScale;
  readonly box: RibbonBox;
  readonly rem: number;
}

/** What a walker notices first is labelled first. */
const WEIGHT: Partial<Record<Kind, number>> = {
  river: 9, water: 9, road: 8, rail: 8, stream: 7, powerLine: 6, wall: 5, fence: 4, path: 6, cliff: 9, shore: 8,
  woodEdge: 3, wood: 3, wetland: 4, ridge: 2, valley: 2, contour: 0,
};

export const crossingTone = (kind: Kind): "water" | "ground" | "green" | "works" => {
  if (kind === "stream" || kind === "river" || kind === "water" || kind === "shore" || kind === "wetland") return "water";
  if (kind === "wood" || kind === "woodEdge") return "green";
  if (kind === "ridge" || kind === "valley" || kind === "contour" || kind === "cliff" || kind === "spur" || kind === "draw") return "ground";
  return "works";
};

/** Contour crossings are the profile itself; they get no dot. */
const shown = ({ crossing }: RibbonCrossing): boolean => crossing.kind !== "contour";

export function CrossingMarks({ profile, scale, box, rem }: Props) {
  const font = `400 ${rem * 0.8}px "Atkinson Hyperlegible Next", "Noto Sans", sans-serif`;
  const marks = profile.crossings.filter(shown).map((one) => {
    const height = one.crossing.elevationM ?? heightAt(profile, one.atM);
    return {
      ...one,
      text: thingName(one.crossing.kind, one.crossing.name),
      x: scale.x(one.atM),
      y: height === null ? box.bottom : scale.y(height),
      weight: WEIGHT[one.crossing.kind] ?? 1,
    };
  });
  const labels = placeLabels(marks, (text) => textWidth(text, font), {
    left: box.left,
    right: box.right,
    top: 1.75 * rem,
    lineHeight: rem,
  });
  return (
    <g class="crossings" aria-hidden="true">
      {labels.map(({ wanted, left, baseline }) => (
        <text key={`${wanted.leg}-${wanted.atM}-${wanted.text}`} class={crossingTone(wanted.crossing.kind)} x={left} y={baseline}>
          {wanted.text}
        </text>
      ))}
      {marks.map((mark) => (
        <circle key={`${mark.leg}-${mark.atM}-${mark.text}`} class={crossingTone(mark.crossing.kind)} cx={mark.x} cy={mark.y} r={3.2} />
      ))}
    </g>
  );
}
