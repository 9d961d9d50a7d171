/** What the lines of the map are to a leg: met on the way, followed, stopped at; and where the map cannot tell. */
import type { LegFrame } from "../geodesy/leg-frame.ts";
import { type BlindStretch, blindAlong } from "../map/blind-along.ts";
import type { MapFeatures } from "../map/features.ts";
import type { Role } from "../map/kinds.ts";
import type { Ground } from "../terrain/ground.ts";
import type { LegLandform } from "../terrain/landforms/landforms-along.ts";
import type { Profile } from "../terrain/profile.ts";
import type { LengthUnit } from "../units/format.ts";
import { bboxOf, growBbox, unionBbox, type Bbox } from "../units/position.ts";
import { backstopOf } from "./aids/backstop.ts";
import { attackBox } from "./aids/attack-points.ts";
import { type FramedLine, frameLines } from "./aids/framed-line.ts";
import { groundBackstops } from "./aids/ground-backstop.ts";
import { handrailsOf } from "./aids/handrails.ts";
import { crossingList } from "./crossing-list.ts";
import { entersAt } from "./crossings/area-edges.ts";
import { withGround } from "./crossings/ground-crossings.ts";
import { indexContours } from "./crossings/index-contours.ts";
import type { LegFigures } from "./figures.ts";
import type { LegSettings } from "./leg-settings.ts";
import { lengthInNote } from "./leg-words.ts";
import { LEG_LINE_KINDS } from "./line-kinds.ts";
import type { PaceFigures } from "./pace-figures.ts";
import { legLinesBox } from "./search-box.ts";
import { stretchesWords } from "./stretches.ts";

type LineFigures = Pick<
  LegFigures,
  "crossings" | "handrails" | "backstop" | "secondBackstop" | "backstopLooks" | "blind"
>;

/** @param landforms those on the way, which are met as lines are */
export function lineFigures(
  frame: LegFrame,
  ground: Ground | null,
  profile: Profile,
  landforms: readonly LegLandform[],
  paces: PaceFigures,
  settings: LegSettings,
): {
  readonly figures: LineFigures;
  readonly notes: readonly string[];
  /** Lines near the leg and around its target, for what else is to be found among them. */
  readonly framed: readonly FramedLine[];
} {
  if (!ground)
    return {
      figures: {
        crossings: [],
        handrails: [],
        backstop: null,
        secondBackstop: null,
        backstopLooks: null,
        blind: [],
      },
      notes: ["There is no map here: crossings, handrails and a backstop cannot be found."],
      framed: [],
    };
  const { map, elevation } = ground;
  const box = unionBbox(legLinesBox(frame.from, frame.to, settings), attackBox(frame.to));
  const lines = map.lines(box, LEG_LINE_KINDS);
  const framed = frameLines(frame, lines);
  const { backstop, second, looks, notes } = backstopOf(
    frame,
    framed,
    settings,
    () => (elevation ? groundBackstops(frame, elevation, settings) : []),
    elevation ? elevation.at.bind(elevation) : null,
  );
  const blind = blindAlong(frame, map);
  const drawn = [
    ...crossingList(frame, lines, profile, paces.upTo, settings.lengthUnit, entersAt(frame, map)),
    ...indexContours(frame, map, paces.upTo),
  ];
  return {
    figures: {
      crossings: withGround(drawn, landforms, profile, paces.upTo),
      handrails: handrailsOf(frame, framed, settings),
      backstop,
      secondBackstop: second,
      backstopLooks: looks,
      blind,
    },
    notes: [
      ...blindNotes(blind, frame.lengthM, settings.lengthUnit),
      ...(backstop ? notes : (reasonForNone(frame, map, settings) ?? notes)),
    ],
    framed,
  };
}

/** Roles that give lines to cross, follow or be stopped by. */
const LINE_ROLES: readonly Role[] = [
  "stream",
  "water",
  "path",
  "road",
  "rail",
  "wall",
  "fence",
  "powerLine",
  "wood",
  "ridge",
  "valley",
];

/** Why no backstop was found when the map could not have shown one; null when it could. */
function reasonForNone(frame: LegFrame, map: MapFeatures, settings: LegSettings): string[] | null {
  if (frame.bearing === null) return null;
  if (!LINE_ROLES.some((role) => map.info.roles[role]))
    return ["This map shows no lines: crossings, handrails and a backstop cannot be found on it."];
  const beyond = growBbox(
    bboxOf([frame.to, frame.toLonLat(frame.lengthM + settings.backstopReachM, 0)]) as Bbox,
    1,
  );
  if (map.blind(beyond).length === 0) return null;
  return [
    `No backstop was found; the map does not show all of the ${lengthInNote(settings.backstopReachM, settings.lengthUnit)} beyond the target.`,
  ];
}

/** Where along the leg the map cannot tell, and why: one sentence a reason. */
function blindNotes(blind: readonly BlindStretch[], lengthM: number, unit: LengthUnit): string[] {
  const reasons = ["outside", "missing", "damaged"] as const;
  return reasons.flatMap((reason) => {
    const parts = blind.filter((stretch) => stretch.reason === reason);
    if (parts.length === 0) return [];
    const { whole, part } = BLIND_WORDS[reason];
    const all = parts.some(({ fromM, toM }) => fromM <= 0 && toM >= lengthM);
    const where = stretchesWords(parts, lengthM, unit);
    const said = all ? whole : `${where.charAt(0).toUpperCase()}${where.slice(1)} ${part}`;
    return [`${said}: what is there is not known.`];
  });
}

const BLIND_WORDS: Readonly<
  Record<BlindStretch["reason"], { readonly whole: string; readonly part: string }>
> = {
  outside: { whole: "The whole leg lies outside the map", part: "the leg lies outside the map" },
  missing: { whole: "The map has no data for the whole leg", part: "the map has no data for the leg" },
  damaged: {
    whole: "The map is damaged along the whole leg and could not be read",
    part: "the map is damaged and could not be read",
  },
};
