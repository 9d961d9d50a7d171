/**
 * What the walk crosses, as dots on the ground's line, and the landforms it goes over, as open diamonds; both labelled
 * where there is room, over one another nowhere.
 */
import type { LandformKind } from "../../core/terrain/landforms/landform.ts";
import { pointedStretch } from "../walk-state/selection.ts";
import type { Kind } from "../../core/map/kinds.ts";
import { thingName } from "../words/kind-words.ts";
import { placeLabels } from "./label-layout.ts";
import type { RibbonBox, RibbonScale } from "./ribbon-scale.ts";
import { textWidth } from "./text-width.ts";
import { heightAt, type RibbonCrossing, type RibbonLandform, type WalkProfile } from "./walk-profile.ts";

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

/** Forms are what a walk is remembered by: after roads and waters, before paths. */
const FORM_WEIGHT: Readonly<Record<LandformKind, number>> = {
  hill: 7.5,
  saddle: 7.5,
  cliff: 9,
  depression: 6.5,
  ridge: 6.5,
  valley: 6.5,
  spur: 5.5,
  draw: 5.5,
};

/** Contours and changes of slope are the profile itself, and forms of the ground have marks of their own. */
const NO_DOT: ReadonlySet<Kind> = new Set(["contour", "rise", "drop", "steep"]);
const shown = ({ crossing: { kind, crossingDeg } }: RibbonCrossing): boolean =>
  !NO_DOT.has(kind) && crossingDeg !== null;

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

type Mark = {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly weight: number;
  readonly key: string;
  readonly tone: string;
  readonly landform: RibbonLandform | null;
};

export function CrossingMarks({ profile, scale, box, rem }: Props) {
  const font = `400 ${rem * 0.8}px "Atkinson Hyperlegible Next", "Noto Sans", sans-serif`;
  const place = (atM: number, knownM: number | null) => {
    const height = knownM ?? heightAt(profile, atM);
    return { x: scale.x(atM), y: height === null ? box.bottom : scale.y(height) };
  };
  const crossings = profile.crossings.filter(shown).map(({ crossing, leg, atM }): Mark => ({
    ...place(atM, crossing.elevationM),
    key: `${leg}-${atM}-${crossing.kind}`,
    text: thingName(crossing.kind, crossing.name),
    tone: crossingTone(crossing.kind),
    weight: WEIGHT[crossing.kind] ?? 1,
    landform: null,
  }));
  const landforms = profile.landforms.map((one): Mark => ({
    ...place(one.atM, null),
    key: `${one.leg}-${one.atM}-${one.form.kind}-${one.form.way}`,
    text: one.form.name ?? one.form.kind,
    tone: "landform",
    weight: FORM_WEIGHT[one.form.kind],
    landform: one,
  }));
  const wanted = [...withoutEchoes(crossings, 5 * rem), ...withoutEchoes(landforms, 5 * rem)];
  const labels = placeLabels(wanted, (text) => textWidth(text, font), {
    left: box.left,
    right: box.right,
    // The line under the headings is the pointer's.
    top: 2.7 * rem,
    lineHeight: rem,
    groundTop: (x0, x1) => groundTop(profile, scale, x0, x1),
  });
  const pointing = ({ landform }: Mark) =>
    landform && {
      onPointerEnter: () => {
        const { leg, form } = landform;
        pointedStretch.value = { leg, fromM: form.fromM, toM: form.toM };
      },
      onPointerLeave: () => (pointedStretch.value = null),
    };
  return (
    <g class="crossings" aria-hidden="true">
      {labels.map(({ wanted: mark, left, width, baseline }) => {
        // A label set high is tied to its mark.
        const foot = Math.min(Math.max(mark.x, left), left + width);
        return (
          <line key={`tie-${mark.key}`} class="tie" x1={mark.x} y1={mark.y} x2={foot} y2={baseline + 2} />
        );
      })}
      {labels.map(({ wanted: mark, left, baseline }) => (
        <text key={mark.key} class={mark.tone} x={left} y={baseline} {...pointing(mark)}>
          {mark.text}
        </text>
      ))}
      {crossings.map((mark) => (
        <circle key={mark.key} class={mark.tone} cx={mark.x} cy={mark.y} r={3.2} />
      ))}
      {landforms.map((mark) => (
        <path
          key={mark.key}
          class="landform"
          data-landform={mark.text}
          d={`M${mark.x - 4} ${mark.y}l4 -4 4 4 -4 4Z`}
          {...pointing(mark)}
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
