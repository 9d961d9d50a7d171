/** From the figures of a file to positions on WGS 84: axes put right, the file's own datum or grid taken off. */
import { Fault } from "../fault.ts";
import { badFeatures } from "../files/feature-file.ts";
import { type Bbox, bboxesMeet, bboxOf, type LonLat } from "../units/position.ts";
import type { Draft, RawExchange, ReadOptions } from "./exchange.ts";
import { fromFrame } from "./file-frame.ts";

/**
 * Puts the positions of all drafts in place.
 * @param report gets a sentence for all that was done
 * @throws Fault "bad-features" when a position is none either way, or the frame has no such place
 */
export function placePositions(
  { drafts, odd, placed = false }: RawExchange,
  options: ReadOptions,
  name: string,
  report: string[],
): void {
  const { frame, near } = options;
  if (frame && placed)
    report.push(`The references say themselves where they lie: ${frame.title} was not laid on them.`);
  const laid = placed ? null : frame;
  const degrees = laid === null || laid.figures === "degrees";
  const exchange =
    options.exchanged ??
    // An order that was said is not guessed at.
    (options.axes !== null || placed || !degrees ? null : guess(drafts, odd, near, report)) ??
    false;
  if (exchange) {
    if (options.exchanged) report.push("Latitude and longitude were exchanged, as asked.");
    for (const one of drafts) one.positions = one.positions.map(([x, y]) => [y, x]);
    const bad = degrees ? firstOdd(drafts) : null;
    if (bad)
      throw badFeatures(
        `Exchanged, a position is none: latitude ${bad[1]}, longitude ${bad[0]}.`,
        name,
        "Read latitude and longitude as the file has them.",
      );
  } else if (odd) throw odd;
  if (!laid) return;
  const place = fromFrame(laid);
  for (const one of drafts)
    one.positions = one.positions.map(([x, y], i) => {
      try {
        return place(x, y);
      } catch (thrown) {
        const fault = Fault.from(thrown);
        if (fault.code === "internal") throw thrown;
        throw badFeatures(
          `${laid.title} has no place ${x}, ${y}.`,
          `${name}, position ${i + 1}`,
          "Choose what the figures count in.",
        );
      }
    });
  report.push(
    `Positions were brought from ${laid.title} to WGS 84${laid.accuracyM === null ? "" : `, good to about ${laid.accuracyM} m`}.`,
  );
}

/** Null where nothing speaks for exchanging the axes. */
function guess(
  drafts: readonly Draft[],
  odd: Fault | null,
  near: Bbox | null,
  report: string[],
): true | null {
  const all = drafts.flatMap(({ positions }) => bboxOf(positions) ?? []);
  if (all.length === 0) return null;
  const natural = bboxOf(corners(all)) as Bbox;
  const turned: Bbox = [natural[1], natural[0], natural[3], natural[2]];
  const possible = Math.max(Math.abs(turned[1]), Math.abs(turned[3])) <= 90;
  if (odd) {
    // One bad latitude among good ones is a bad latitude.
    if (!possible || !(natural[1] > 90 || natural[3] < -90)) return null;
    report.push(
      "Latitude and longitude stand in each other's place: as written, no such place exists. They were exchanged.",
    );
    return true;
  }
  if (!near || !possible || bboxesMeet(natural, near) || !bboxesMeet(turned, near)) return null;
  report.push(
    "Latitude and longitude seem to stand in each other's place: exchanged, they lie on the open map. They were exchanged.",
  );
  return true;
}

/** Boxes end to end, as their corners. */
const corners = (boxes: readonly number[]): LonLat[] =>
  Array.from({ length: boxes.length / 2 }, (_, i) => [boxes[2 * i] as number, boxes[2 * i + 1] as number]);

const firstOdd = (drafts: readonly Draft[]): LonLat | null => {
  for (const { positions } of drafts)
    for (const at of positions) if (Math.abs(at[0]) > 180 || Math.abs(at[1]) > 90) return at;
  return null;
};
