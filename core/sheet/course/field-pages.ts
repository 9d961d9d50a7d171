/** A course on small ground on paper: the learner's list, the setter's plan with stakes and rings, and the scoring sheet. */
import { FIELD_CAUTIONS } from "../../course/cautions.ts";
import { closingWords, fieldTask, sightText, tapeText } from "../../course/field-words.ts";
import type { FieldCourse } from "../../course/small-ground.ts";
import { stakePlaces } from "../../course/stake-places.ts";
import { Fault } from "../../fault.ts";
import { formatBearing, formatQuantity } from "../../units/format.ts";
import type { PageSet } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import type { Block } from "../tables/paginate.ts";
import { type PaperLook, textFrame } from "../tables/paper-frame.ts";
import { paragraph, rememberingRuler, space } from "../tables/text-block.ts";
import { fieldPlan } from "./field-plan.ts";
import { plainTable } from "./plain-table.ts";
import { scoreBlocks } from "./score-blocks.ts";
import {
  type CoursePart,
  drawnPiece,
  headBlock,
  PART_NAMES,
  partPages,
  setOf,
  settingOf,
  type SheetSetting,
  textBlock,
} from "./sheet-blocks.ts";

export interface FieldSheetWish extends PaperLook {
  readonly parts: readonly CoursePart[];
}

const three = (degrees: number): string => formatBearing(degrees, { threeFigures: true });

/** @throws Fault "bad-argument" when nothing is chosen */
export function fieldPages(course: FieldCourse, wish: FieldSheetWish, lent: TextRuler): PageSet {
  if (wish.parts.length === 0)
    throw new Fault("bad-argument", "There is nothing chosen to print.", null, "Choose a sheet.");
  const ruler = rememberingRuler(lent);
  const setting = settingOf(wish, textFrame(wish, false, ruler), false, ruler);
  const { lengthM, widthM, seed } = course.wish;
  const title = `Small ground, ${formatQuantity(lengthM, "m")} by ${formatQuantity(widthM, "m")}, seed ${seed}`;
  const blocks: Readonly<Record<CoursePart, () => Block[]>> = {
    learner: () => learnerBlocks(course, setting),
    setter: () => setterBlocks(course, setting),
    scoring: () =>
      scoreBlocks(
        course.legs.map(({ from, to, ...leg }) => ({ ends: `${from} → ${to}`, ...leg })),
        setting.frame,
        setting.sizes,
        ruler,
      ),
  };
  const pages = wish.parts.flatMap((part) =>
    partPages(
      part,
      title,
      [
        headBlock(PART_NAMES[part], title, part !== "setter", setting),
        ...blocks[part](),
        { pieces: [space(3)] },
        textBlock(FIELD_CAUTIONS, setting, setting.sizes.small),
      ],
      setting,
    ),
  );
  return setOf(title, pages, []);
}

function learnerBlocks(course: FieldCourse, setting: SheetSetting): Block[] {
  return [
    textBlock([fieldTask(course)], setting),
    ...plainTable(
      [
        { heading: "Leg", share: 1 },
        { heading: "Bearing", share: 1 },
        { heading: "Length", share: 1 },
        { heading: "Paces", share: 1.2 },
        { heading: "Stake found", share: 2 },
      ],
      course.legs.map(({ bearingDeg, lengthM, paces }, i) => [
        String(i + 1),
        three(bearingDeg),
        formatQuantity(lengthM, "m"),
        paces === null ? null : String(paces),
        null,
      ]),
      setting.frame,
      setting.sizes.body,
      setting.ruler,
    ),
  ];
}

function setterBlocks(course: FieldCourse, setting: SheetSetting): Block[] {
  const { frame, sizes, ruler } = setting;
  const { wish, stakes, legs, closing } = course;
  const room = { widthMm: frame.width, heightMm: (frame.bottomMm - frame.topMm) * 0.55 };
  const plan = fieldPlan(course, room, sizes.small);
  const places = stakePlaces(course);
  return [
    textBlock(
      [
        `The longer side runs along ${three(wish.alongDeg)} magnetic. The corner is the one behind you on the left as you look that way; across is to the right.`,
        ...(closing ? [closingWords(closing)] : []),
      ],
      setting,
    ),
    {
      pieces: [
        drawnPiece(plan.items, frame.x, plan.heightMm),
        ...paragraph(plan.caption, frame, { pt: sizes.small }, ruler),
        space(3),
      ],
    },
    ...plainTable(
      [
        { heading: "Stake", share: 0.8 },
        { heading: "From stake 1", share: 2 },
        { heading: "From the corner", share: 2 },
        { heading: "Along", share: 1, align: "right" },
        { heading: "Across", share: 1, align: "right" },
        { heading: "Ring", share: 1, align: "right" },
        { heading: "Leg from it", share: 2 },
      ],
      stakes.map(({ label, fromFirst, ringM }, i) => {
        const place = places[i] as (typeof places)[number];
        const from = legs.filter((leg) => leg.from === label);
        return [
          label,
          fromFirst ? `${sightText(fromFirst.bearingDeg)}, ${tapeText(fromFirst.distanceM)}` : "–",
          `${sightText(place.fromCorner.bearingDeg)}, ${tapeText(place.fromCorner.distanceM)}`,
          tapeText(place.alongM),
          tapeText(place.acrossM),
          tapeText(ringM),
          from.length === 0
            ? "–"
            : from.map((leg) => `${three(leg.bearingDeg)}, ${formatQuantity(leg.lengthM, "m")}`).join("; "),
        ];
      }),
      frame,
      sizes.small,
      ruler,
    ),
  ];
}
