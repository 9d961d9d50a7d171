/** Where the next point of a course may stand: within a leg's length of the last, and so that the course can still be ended as asked. */
import { direct } from "../geodesy/geodesic.ts";
import { trueBearing } from "../units/angle.ts";
import type { LonLat } from "../units/position.ts";
import { type CoursePoint, type CourseWish, legsOf } from "./course.ts";
import type { Chance } from "./course-random.ts";
import type { PlacesAround } from "./places-around.ts";

/** Choices looked at for one point, before another start is made. */
const CHOICES = 8;
/** What a place that is not called like one already set is worth more: learners are to read the map, not count corners. No source. */
const SOMETHING_NEW = 0.5;
/** Positions of bare ground thrown for them. */
const THROWS = 40;

const BARE_WORDS = "nothing: bearing and count lead here";
export const bare = (lonLat: LonLat): CoursePoint => ({
  lonLat,
  kind: null,
  name: null,
  words: BARE_WORDS,
});

/**
 * Choices for the point after those set, in the order in which to try them; by chance, the surer places first.
 * @param points those set, the start first
 * @param walkedM the legs between them
 */
export async function nextPoints(
  wish: CourseWish,
  points: readonly CoursePoint[],
  walkedM: number,
  around: PlacesAround,
  chance: Chance,
): Promise<CoursePoint[]> {
  const { kind, legM } = wish;
  const fromStart = kind === "star" || kind === "scatter";
  const from = (fromStart ? points[0] : points.at(-1)) as CoursePoint;
  const [least, most] = legRange(wish, points.length - 1, walkedM);
  const start = (points[0] as CoursePoint).lonLat;
  // Legs left after this point, the way home included: it must not lie farther from the start than they reach.
  const homeM = kind === "round" ? (wish.points - points.length + 1) * legM[1] : Infinity;
  const fits = ({ lonLat }: CoursePoint): boolean => {
    const distanceM = around.apartM(from.lonLat, lonLat);
    if (distanceM < least || distanceM > most) return false;
    const backM = around.apartM(lonLat, start);
    // On the last leg home the length is a leg's own.
    const isLast = kind === "round" && points.length === wish.points;
    return backM <= homeM && (!isLast || backM >= legM[0]);
  };
  if (wish.on === "bare")
    return Array.from({ length: THROWS }, () =>
      bare(
        // Evenly over the ring's area.
        direct(
          from.lonLat,
          trueBearing(chance.between(0, 360)),
          Math.sqrt(chance.between(least * least, most * most)),
        ),
      ),
    )
      .filter(fits)
      .slice(0, CHOICES);
  const near = (await around.near(from.lonLat, most)).filter(fits);
  const isNew = ({ words }: CoursePoint): boolean => points.every((point) => point.words !== words);
  return near
    .map((place) => ({ place, worth: place.distinct + chance.next() + (isNew(place) ? SOMETHING_NEW : 0) }))
    .sort((a, b) => b.worth - a.worth)
    .slice(0, CHOICES)
    .map(({ place }) => place);
}

/** The lengths the next leg may have: a leg's own limits, and those that leave the total within reach. */
function legRange(
  { kind, points, legM: [least, most], totalM }: CourseWish,
  set: number,
  walkedM: number,
): readonly [number, number] {
  if (!totalM) return [least, most];
  // On a star every leg is walked twice.
  const times = kind === "star" ? 2 : 1;
  const left = legsOf(kind, points).length - times * set - times;
  return [
    Math.max(least, (totalM[0] - walkedM - left * most) / times),
    Math.min(most, (totalM[1] - walkedM - left * least) / times),
  ];
}
