/** Aids of the legs under their lines: follow beside, stop across, mind hatched, each with its word. */
import { legFrame } from "../../geodesy/leg-frame.ts";
import { DEG } from "../../units/angle.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";
import { clipPolyline } from "../furniture/clip-paper.ts";
import { cutRing } from "../map/map-sheet.ts";
import { across, fill, hatch, marksAlong, strokes } from "../map/strokes.ts";
import { INKS } from "../page/inks.ts";
import { group, type Ink, type PageItem, type PaperPoint } from "../page/page.ts";
import type { SheetWalk, WalkWish } from "./sheet-walk.ts";

export interface AidWord {
  readonly word: "follow" | "stop" | "mind" | "way out";
  readonly at: PaperPoint;
  readonly ink: Ink;
}

export interface DrawnAids {
  readonly items: readonly PageItem[];
  readonly words: readonly AidWord[];
  /** Lines that are drawn over the map, for names to keep off. */
  readonly lines: readonly Float64Array[];
}

/** @param isShown whether a leg, counting from 0, is on this sheet */
export function drawAids(
  walk: SheetWalk,
  frame: SheetFrame,
  wish: WalkWish,
  isShown: (leg: number) => boolean,
): DrawnAids {
  const words: AidWord[] = [];
  const lines: Float64Array[] = [];
  const onPaper = (flat: Float64Array): Float64Array[] => clipPolyline(frame.lineToPaper(flat), frame.map);
  const speak = (word: AidWord["word"], parts: readonly Float64Array[], ink: Ink): void => {
    lines.push(...parts);
    const longest = [...parts].sort((a, b) => b.length - a.length)[0];
    if (!longest) return;
    const middle = 2 * (longest.length >> 2);
    words.push({ word, at: [longest[middle] as number, longest[middle + 1] as number], ink });
  };
  const [cones, follow, stop, mind]: PageItem[][] = [[], [], [], []];
  for (let leg = 0; leg + 1 < walk.points.length; leg++) {
    if (!isShown(leg)) continue;
    const aids = walk.aids[leg] ?? null;
    if (wish.cone) cones?.push(...cone(walk, leg, frame));
    if (wish.handrails)
      for (const rail of aids?.handrails.slice(0, 1) ?? []) {
        const parts = rail.stretches.flatMap(onPaper);
        follow?.push(...strokes(parts, { ink: INKS.followSoft, widthMm: 1.8, cap: "round", join: "round" }));
        speak("follow", parts, INKS.followName);
      }
    if (wish.backstops && aids?.backstop) {
      const parts = aids.backstop.stretches.flatMap(onPaper);
      stop?.push(
        ...strokes(parts, { ink: INKS.stopSoft, widthMm: 1.8, join: "round" }),
        ...strokes(across(marksAlong(parts, 3), 0.9, 0.9), { ink: INKS.stop, widthMm: 0.25 }),
      );
      speak("stop", parts, INKS.stopName);
    }
    if (wish.hazards)
      for (const { stretches } of aids?.hazards ?? []) {
        const parts = stretches.flatMap(onPaper);
        const rings = stretches.filter(isRing).map((flat) => cutRing(frame.lineToPaper(flat), frame.map));
        mind?.push(
          ...strokes(
            rings.filter((ring) => ring.length > 0).flatMap((ring) => hatch([ring], 1.4, -45)),
            { ink: INKS.mind, widthMm: 0.15 },
          ),
          ...strokes(slanted(parts), { ink: INKS.mind, widthMm: 0.2 }),
        );
        speak("mind", parts, INKS.mindName);
      }
  }
  if (wish.escapes)
    for (const { from, to } of walk.escapes ?? []) {
      const [a, b] = [frame.toPaper(from), frame.toPaper(to)];
      const parts = clipPolyline(Float64Array.of(...a, ...b), frame.map);
      mind?.push(...strokes(parts, { ink: INKS.leg, widthMm: 0.3, dashMm: [1.2, 0.8] }), ...arrowHead(a, b));
      if (parts[0]) words.push({ word: "way out", at: middleOf(parts[0]), ink: INKS.ink });
    }
  return {
    items: [
      group("drift cones", cones ?? []),
      group("handrails", follow ?? []),
      group("backstops", stop ?? []),
      group("hazards", mind ?? []),
    ],
    words,
    lines,
  };
}

const isRing = (flat: Float64Array): boolean =>
  flat.length >= 8 && flat[0] === flat.at(-2) && flat[1] === flat.at(-1);

const middleOf = (line: Float64Array): PaperPoint => [
  ((line[0] as number) + (line.at(-2) as number)) / 2,
  ((line[1] as number) + (line.at(-1) as number)) / 2,
];

/** Short strokes at a slant over a line: hatching of what has no area. */
const slanted = (parts: readonly Float64Array[]): Float64Array[] =>
  marksAlong(parts, 0.9).map(({ x, y }) => Float64Array.of(x - 0.6, y + 0.6, x + 0.6, y - 0.6));

/** How far beyond the target the cone goes when nothing stops the walker, as a share of the leg. */
const BEYOND_SHARE = 0.12;
const STEPS = 12;

function cone(walk: SheetWalk, leg: number, frame: SheetFrame): PageItem[] {
  const [from, to] = [walk.points[leg]?.lonLat, walk.points[leg + 1]?.lonLat];
  if (!from || !to) return [];
  const ground = legFrame(from, to);
  if (ground.lengthM < 1) return [];
  const reach = ground.lengthM + (walk.aids[leg]?.backstop?.beyondM ?? ground.lengthM * BEYOND_SHARE);
  const ring: number[] = [...from];
  for (let i = -STEPS; i <= STEPS; i++) {
    const angle = (walk.driftDeg * i * DEG) / STEPS;
    ring.push(...ground.toLonLat(reach * Math.cos(angle), reach * Math.sin(angle)));
  }
  ring.push(...from);
  const cut = cutRing(frame.lineToPaper(Float64Array.from(ring)), frame.map);
  if (cut.length === 0) return [];
  return [{ ...fill([cut], INKS.wash), fillOpacity: 0.45 }];
}

function arrowHead([ax, ay]: PaperPoint, [bx, by]: PaperPoint): PageItem[] {
  const length = Math.hypot(bx - ax, by - ay);
  if (length < 3) return [];
  const [dx, dy] = [(bx - ax) / length, (by - ay) / length];
  const [tx, ty] = [bx - dx * 2.2, by - dy * 2.2];
  return [
    fill([Float64Array.of(bx, by, tx - dy * 0.8, ty + dx * 0.8, tx + dy * 0.8, ty - dx * 0.8)], INKS.leg),
  ];
}
