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
  river: 9,
  water: 9,
  road: 8,
  rail: 8,
  stream: 7,
  powerLine: 6,
  wall: 5,
  fence: 4,
  path: 6,
  cliff: 9,
  shore: 8,
  woodEdge: 3,
  wood: 3,
  wetland: 4,
  ridge: 2,
  valley: 2,
  contour: 0,
};

export const crossingTone = (kind: Kind): "water" | "ground" | "green" | "works" => {
  if (kind === "stream" || kind === "river" || kind === "water" || kind === "shore" || kind === "wetland")
    return "water";
  if (kind === "wood" || kind === "woodEdge") return "green";
  if (
    kind === "ridge" ||
    kind === "valley" ||
    kind === "contour" ||
    kind === "cliff" ||
    kind === "spur" ||
    kind === "draw"
  )
    return "ground";
  return "works";
};

/** Contour crossings are the profile itself; they get no dot. */
const shown = ({ crossing }: RibbonCrossing): boolean => crossing.kind !== "contour";

/** The same thing crossed again close by is said once; its other dots stay. */
function withoutEchoes<T extends { readonly text: string; readonly x: number }>(
  marks: readonly T[],
  nearPx: number,
): readonly T[] {
  const lastAt = new Map<string, number>();
  return marks.filter(({ text, x }) => {
    const before = lastAt.get(text);
    if (before !== undefined && x - before < nearPx) return false;
    lastAt.set(text, x);
    return true;
  });
}

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
  const labels = placeLabels(withoutEchoes(marks, 5 * rem), (text) => textWidth(text, font), {
    left: box.left,
    right: box.right,
    // The line under the headings is the pointer's.
    top: 2.7 * rem,
    lineHeight: rem,
    groundTop: (x0, x1) => groundTop(profile, scale, x0, x1),
  });
  return (
    <g class="crossings" aria-hidden="true">
      {labels.map(({ wanted, left, width, baseline }) => {
        // A label set high is tied to its dot.
        const foot = Math.min(Math.max(wanted.x, left), left + width);
        return (
          <line
            key={`tie-${wanted.leg}-${wanted.atM}-${wanted.text}`}
            class="tie"
            x1={wanted.x}
            y1={wanted.y}
            x2={foot}
            y2={baseline + 2}
          />
        );
      })}
      {labels.map(({ wanted, left, baseline }) => (
        <text
          key={`${wanted.leg}-${wanted.atM}-${wanted.text}`}
          class={crossingTone(wanted.crossing.kind)}
          x={left}
          y={baseline}
        >
          {wanted.text}
        </text>
      ))}
      {marks.map((mark) => (
        <circle
          key={`${mark.leg}-${mark.atM}-${mark.text}`}
          class={crossingTone(mark.crossing.kind)}
          cx={mark.x}
          cy={mark.y}
          r={3.2}
        />
      ))}
    </g>
  );
}

/** Read at a few places: a label is short against the forms of the ground. */
function groundTop(profile: WalkProfile, scale: RibbonScale, x0: number, x1: number): number {
  let top = Infinity;
  for (let i = 0; i <= 6; i++) {
    const height = heightAt(profile, scale.along(x0 + ((x1 - x0) * i) / 6));
    if (height !== null) top = Math.min(top, scale.y(height));
  }
  return top;
}
