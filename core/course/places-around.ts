/** Places around a start on which a point of a course can stand, looked up square by square as they are needed. */
import { direct } from "../geodesy/geodesic.ts";
import { legFrame, type LegFrame } from "../geodesy/leg-frame.ts";
import { candidatesNear } from "../legs/aids/attack-points-candidates.ts";
import { frameLines } from "../legs/aids/framed-line.ts";
import { LEG_LINE_KINDS } from "../legs/line-kinds.ts";
import type { Kind } from "../map/kinds.ts";
import { type Ground, prepareGround } from "../terrain/ground.ts";
import { landformsIn } from "../terrain/landforms/landforms-in.ts";
import { LANDFORM_REACH_M } from "../terrain/landforms/landform.ts";
import { trueBearing } from "../units/angle.ts";
import { bboxOf, growBbox, type Bbox, type LonLat } from "../units/position.ts";
import type { CoursePoint } from "./course.ts";

/** Side of a square, metres: some dozens of places on a dense map. */
const SQUARE_M = 400;
/** Less surely known when one stands there, a place is no target for a learner. No source. */
const LEAST_DISTINCT = 0.5;
/** Where these end nobody can say to a few steps. */
const VAGUE: ReadonlySet<Kind> = new Set<Kind>(["spur"]);
/** Things of one kind so near each other can be taken for one another, metres. */
const MISTAKEN_M = 60;

const POINT_KINDS: ReadonlySet<Kind> = new Set<Kind>(["peak", "spotHeight", "building"]);
const AREA_KINDS: ReadonlySet<Kind> = new Set<Kind>(["building", "water"]);

export interface Place extends CoursePoint {
  /** How surely it is known when one stands there, 0–1. */
  readonly distinct: number;
}

export class PlacesAround {
  readonly #frame: LegFrame;
  readonly #plane = new WeakMap<LonLat, readonly [s: number, t: number]>();
  readonly #asked = new WeakMap<
    LonLat,
    { readonly withinM: number; readonly places: Promise<readonly Place[]> }
  >();
  readonly #squares = new Map<string, Promise<readonly Place[]>>();

  constructor(
    private readonly ground: Ground,
    start: LonLat,
    private readonly signal?: AbortSignal,
  ) {
    // Along north, so that s is north and t is west of the start.
    this.#frame = legFrame(start, direct(start, trueBearing(0), SQUARE_M));
  }

  /** In the plane around the start: within centimetres of the geodesic as far as a course goes, and quick. */
  apartM(a: LonLat, b: LonLat): number {
    const [[s0, t0], [s1, t1]] = [this.#inPlane(a), this.#inPlane(b)];
    return Math.hypot(s1 - s0, t1 - t0);
  }

  #inPlane(at: LonLat): readonly [s: number, t: number] {
    let st = this.#plane.get(at);
    if (!st) this.#plane.set(at, (st = this.#frame.toFrame(at)));
    return st;
  }

  /** Places within a distance of one, the nearest first. */
  near(at: LonLat, withinM: number): Promise<readonly Place[]> {
    const known = this.#asked.get(at);
    if (known?.withinM === withinM) return known.places;
    const places = this.#look(at, withinM);
    this.#asked.set(at, { withinM, places });
    return places;
  }

  async #look(at: LonLat, withinM: number): Promise<readonly Place[]> {
    const [s, t] = this.#inPlane(at);
    const index = (metres: number): number => Math.floor(metres / SQUARE_M);
    const found: { place: Place; farM: number }[] = [];
    for (let i = index(s - withinM); i <= index(s + withinM); i++)
      for (let j = index(t - withinM); j <= index(t + withinM); j++)
        for (const place of await this.#square(i, j)) {
          const farM = this.apartM(place.lonLat, at);
          if (farM <= withinM) found.push({ place, farM });
        }
    return found.sort((a, b) => a.farM - b.farM).map(({ place }) => place);
  }

  #square(i: number, j: number): Promise<readonly Place[]> {
    const key = `${i} ${j}`;
    let square = this.#squares.get(key);
    if (!square) this.#squares.set(key, (square = this.#read(i, j)));
    return square;
  }

  async #read(i: number, j: number): Promise<readonly Place[]> {
    const frame = this.#frame;
    const [low, left] = [i * SQUARE_M, j * SQUARE_M];
    const at = { s: low + SQUARE_M / 2, t: left + SQUARE_M / 2 };
    const corners = [0, 1, 2, 3].map((k) =>
      frame.toLonLat(low + (k & 1) * SQUARE_M, left + (k >> 1) * SQUARE_M),
    );
    const box = bboxOf(corners) as Bbox;
    const { map } = this.ground;
    await prepareGround(this.ground, growBbox(box, LANDFORM_REACH_M), this.signal);
    // Lines are read beyond the square, so that what they make at its edge is seen as it is.
    const around = growBbox(box, 100);
    const candidates = candidatesNear(
      {
        frame,
        lines: frameLines(frame, map.lines(around, LEG_LINE_KINDS)),
        points: map.points(around, POINT_KINDS),
        areas: map.areas(around, AREA_KINDS),
        landforms: this.ground.elevation ? landformsIn(this.ground, around) : [],
      },
      at,
      SQUARE_M / Math.SQRT2,
    );
    return candidates
      .filter((c) => {
        if (c.distinct < LEAST_DISTINCT || VAGUE.has(c.kind)) return false;
        // Half-open, so that a place on an edge belongs to one square.
        if (c.s < low || c.s >= low + SQUARE_M || c.t < left || c.t >= left + SQUARE_M) return false;
        return candidates.every(
          (o) => o === c || o.kind !== c.kind || Math.hypot(o.s - c.s, o.t - c.t) > MISTAKEN_M,
        );
      })
      .map(({ kind, name, words, distinct, s, t }) => ({
        kind,
        name,
        words,
        distinct,
        lonLat: frame.toLonLat(s, t),
      }));
  }
}
