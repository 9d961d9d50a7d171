/**
 * The rules of a course, checked by code that shares nothing with what sets courses: plane geometry about the course on the raw
 * tiles. Answers sentences for what is broken; allowances are for rounding only and are said.
 */
import { crossing, distanceTo, planeAt } from "./plane.ts";
import { metresBetween, type RawFeature, type RawMap, type Xy } from "./raw-map.ts";

export interface Checked {
  readonly kind: string;
  readonly legM: readonly [number, number];
  readonly on: "found" | "bare";
  readonly backstops: boolean;
  readonly clearOf: "line" | "cone";
  readonly apartM: number;
  readonly points: readonly Xy[];
  readonly legs: readonly (readonly [number, number])[];
  /** Kind of each leg's backstop as the course tells it; null for none. */
  readonly stops: readonly (string | null)[];
}

function isInside([x, y]: Xy, rings: readonly (readonly Xy[])[]): boolean {
  let inside = false;
  for (const ring of rings)
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [[xi, yi], [xj, yj]] = [ring[i] as Xy, ring[j] as Xy];
      if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
    }
  return inside;
}

const BIG_ROADS = new Set(["motorway", "trunk", "primary", "secondary", "highway", "major_road"]);
/** Roles that may not be crossed, whatever else is said of them. */
const NEVER = new Set(["cliff", "rail", "restricted", "wetland", "water"]);
/** Roles whose lines stop one who walks into them. */
const STOPS = new Set(["road", "rail", "stream", "water", "wall", "fence", "path", "powerLine", "wood"]);
/** Roles that make a place findable by lying on it. */
const LINES = new Set(["road", "rail", "stream", "water", "wall", "fence", "path", "powerLine", "wood"]);

const isBarred = ({ role, class: kind, widthM, underground, type }: RawFeature): boolean =>
  !underground &&
  type !== 1 &&
  (NEVER.has(role) ||
    (role === "road" && BIG_ROADS.has(kind)) ||
    (role === "stream" && (kind === "river" || widthM >= 3)));

/** Of standing by a road or by water, metres; the tiles' own rounding. */
const BY_M = 10;
const ROUNDING_M = 2;
const STEEP_DEG = 30;

export function brokenRules(course: Checked, map: RawMap): string[] {
  const broken: string[] = [];
  const plane = planeAt(course.points[0] as Xy);
  const places = course.points.map(plane);
  const near = nearby(course.points, map).map((feature) => ({
    ...feature,
    plane: feature.parts.map((part) => part.map(plane)),
  }));
  course.points.forEach((at, i) => {
    const [west, south, east, north] = map.bounds;
    if (at[0] < west || at[0] > east || at[1] < south || at[1] > north)
      broken.push(`point ${i} is off the map`);
    course.points.slice(i + 1).forEach((other, k) => {
      const apart = metresBetween(at, other);
      if (apart < course.apartM - 0.5)
        broken.push(`points ${i} and ${i + 1 + k} are ${apart.toFixed(0)} m apart`);
    });
  });
  course.legs.forEach(([from, to], n) => {
    const [a, b] = [places[from], places[to]] as [Xy, Xy];
    const length = metresBetween(course.points[from] as Xy, course.points[to] as Xy);
    const say = (what: string): void => void broken.push(`leg ${n + 1}: ${what}`);
    if (length < course.legM[0] - 1 || length > course.legM[1] + 1) say(`${length.toFixed(0)} m long`);
    for (const { role, class: kind, type, plane: parts } of near.filter(isBarred)) {
      const mayStandBy = role === "water" || role === "road" || role === "stream";
      for (const part of parts)
        for (let i = 1; i < part.length; i++) {
          const share = crossing(a, b, part[i - 1] as Xy, part[i] as Xy);
          if (share === null) continue;
          const at = share * length;
          const slack = mayStandBy ? BY_M + ROUNDING_M : ROUNDING_M;
          if (at > slack && at < length - slack) say(`crosses ${role} ${kind} after ${at.toFixed(0)} m`);
        }
      // A leg wholly within an area crosses no edge of it.
      const middle: Xy = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
      if (type === 3 && isInside(middle, parts)) say(`has its middle in ${role} ${kind}`);
    }
    steepness(course.points[from] as Xy, course.points[to] as Xy, length, map, say);
    if (to !== 0) standing(b, course.points[to] as Xy, course.on, near, map, say);
    const stop = course.stops[n];
    if (course.backstops) {
      if (!stop) say("has no backstop");
      else {
        const share = stoppedShare(a, b, near);
        if (share < 0.8) say(`only ${(100 * share).toFixed(0)} of 100 are stopped behind the target`);
      }
    }
  });
  return broken;
}

/** Ground well over the steepness that counts, over 20 m along the leg; half a cell of the model is allowed at its edge. */
function steepness(from: Xy, to: Xy, length: number, map: RawMap, say: (what: string) => void): void {
  const at = (m: number): Xy => [
    from[0] + ((to[0] - from[0]) * m) / length,
    from[1] + ((to[1] - from[1]) * m) / length,
  ];
  for (let m = 10; m + 10 <= length; m += 10) {
    const deg =
      (Math.atan(Math.abs(map.smoothAt(at(m + 10)) - map.smoothAt(at(m - 10))) / 20) * 180) / Math.PI;
    if (deg > STEEP_DEG + 8) say(`goes over ground of ${deg.toFixed(0)}° after ${m} m`);
  }
}

type Near = RawFeature & { readonly plane: readonly (readonly Xy[])[] };

/** What a point of a course stands on, or does not: within 15 m of a line, 30 m of a building or a summit, or a top or bottom of the ground. */
function standing(
  at: Xy,
  lonLat: Xy,
  on: Checked["on"],
  near: readonly Near[],
  map: RawMap,
  say: (what: string) => void,
): void {
  const offM = (some: (feature: Near) => boolean): number =>
    Math.min(
      Infinity,
      ...near.filter(some).flatMap(({ plane, type }) =>
        plane.flatMap((part) =>
          part.length === 1
            ? [Math.hypot((part[0] as Xy)[0] - at[0], (part[0] as Xy)[1] - at[1])]
            : part.slice(1).map((b, i) => {
                const a = part[i] as Xy;
                // Where a tile cuts an area there is an edge due north or east, and nothing on the ground.
                const isCut = type === 3 && (Math.abs(a[0] - b[0]) < 0.01 || Math.abs(a[1] - b[1]) < 0.01);
                return isCut ? Infinity : distanceTo(at, a, b);
              }),
        ),
      ),
    );
  const line = offM(({ role, type, underground }) => LINES.has(role) && type !== 1 && !underground);
  // A house is where its middle is.
  const thing = Math.min(
    Infinity,
    ...near
      .filter(({ role }) => role === "building" || role === "peak")
      .map(({ plane }) => {
        const all = plane.flat();
        const middle = (k: 0 | 1): number =>
          (Math.min(...all.map((xy) => xy[k])) + Math.max(...all.map((xy) => xy[k]))) / 2;
        return Math.hypot(middle(0) - at[0], middle(1) - at[1]);
      }),
  );
  if (on === "bare") {
    if (line < 15 - ROUNDING_M) say(`its target is ${line.toFixed(1)} m from a line, not on bare ground`);
    if (thing < 30 - ROUNDING_M) say(`its target is ${thing.toFixed(1)} m from a building or summit`);
    return;
  }
  if (line <= 15 + ROUNDING_M || thing <= 30 + ROUNDING_M) return;
  if (!standsOut(lonLat, map)) say("its target is on nothing that can be found");
}

/** Higher or lower than nearly all of the ground 60 m around, or a saddle: changes of level go four times round. */
function standsOut([lon, lat]: Xy, map: RawMap): boolean {
  const here = map.heightAt([lon, lat]);
  const deg = 1 / metresBetween([lon, lat], [lon, lat + 1]);
  return [40, 80, 120].some((far) => {
    const round = Array.from({ length: 16 }, (_, i) => {
      const turn = (i * Math.PI) / 8;
      const d = far * deg;
      return Math.sign(
        map.heightAt([
          lon + (d * Math.sin(turn)) / Math.cos((lat * Math.PI) / 180),
          lat + d * Math.cos(turn),
        ]) - here,
      );
    });
    const ups = round.filter((sign) => sign > 0).length;
    const turns = round.filter((sign, i) => sign !== round[(i + 1) % 16]).length;
    return ups <= 2 || ups >= 14 || turns >= 4;
  });
}

/** Share of the rays within 6° of the leg that meet a stopping line at the target or within 500 m behind it. */
function stoppedShare(a: Xy, b: Xy, near: readonly Near[]): number {
  const lines = near.filter(({ role, type, underground }) => STOPS.has(role) && type !== 1 && !underground);
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const heading = Math.atan2(b[0] - a[0], b[1] - a[1]);
  let stopped = 0;
  const rays = 25;
  for (let i = 0; i < rays; i++) {
    const turn = heading + ((i / (rays - 1)) * 12 - 6) * (Math.PI / 180);
    const at = (m: number): Xy => [a[0] + m * Math.sin(turn), a[1] + m * Math.cos(turn)];
    // A line that bends back from the target is met before it by those who drift to one side.
    const [start, end] = [at(length / 3), at(length + 510)];
    const isHit = lines.some(({ plane }) =>
      plane.some((part) => part.some((p, k) => k > 0 && crossing(start, end, part[k - 1] as Xy, p) !== null)),
    );
    if (isHit) stopped++;
  }
  return stopped / rays;
}

/** Features with a vertex box that comes near the course. */
function nearby(points: readonly Xy[], { features }: RawMap): readonly RawFeature[] {
  const room = 0.008;
  const [west, east] = [
    Math.min(...points.map(([x]) => x)) - 1.5 * room,
    Math.max(...points.map(([x]) => x)) + 1.5 * room,
  ];
  const [south, north] = [
    Math.min(...points.map(([, y]) => y)) - room,
    Math.max(...points.map(([, y]) => y)) + room,
  ];
  return features.filter(({ box: [w, e, so, n] }) => w <= east && e >= west && so <= north && n >= south);
}
