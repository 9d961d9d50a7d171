/** What a drill asks of the ground: places thrown by chance, and the figures between them. */
import { direct, inverse } from "../../geodesy/geodesic.ts";
import { legFrame } from "../../geodesy/leg-frame.ts";
import { toUtm, type Utm } from "../../geodesy/utm.ts";
import { declinationsAt } from "../../legs/norths/declinations.ts";
import type { LegFigures } from "../../legs/figures.ts";
import { legFigures } from "../../legs/leg-figures.ts";
import type { LegSettings } from "../../legs/leg-settings.ts";
import { type Ground, prepareGround } from "../../terrain/ground.ts";
import { DEG, gridBearing, trueBearing, type GridBearing } from "../../units/angle.ts";
import type { LonLat } from "../../units/position.ts";
import { FOLLOWED_KINDS, isGroundShape, STOPPING_KINDS } from "../../legs/line-kinds.ts";
import type { LineFeature } from "../../map/features.ts";
import type { Kind } from "../../map/kinds.ts";
import type { Landform } from "../../terrain/landforms/landform.ts";
import { landformsIn } from "../../terrain/landforms/landforms-in.ts";
import { profileOf } from "../../terrain/leg-profile.ts";
import type { Profile } from "../../terrain/profile.ts";
import { attackBox } from "../../legs/aids/attack-points.ts";
import { legSearchBox } from "../../legs/search-box.ts";
import { bboxOf, growBbox, unionBbox, type Bbox } from "../../units/position.ts";
import type { Chance } from "../course-random.ts";
import type { DrillWish, Mark, Question } from "./drill.ts";
import { type LevelFigures, LEVELS } from "./level.ts";

const LINES: ReadonlySet<Kind> = new Set(
  [...FOLLOWED_KINDS].filter((kind) => STOPPING_KINDS.has(kind) && !isGroundShape(kind)),
);

/**
 * Kilometres of legs whose figures are worked out for one worksheet, each leg counted as one at least: with them a sheet takes
 * about a second and a half at most, where nothing like what is asked for is to be found too.
 */
const MOST_LEG_KM = 160;

export class DrillGround {
  #legKm = 0;
  #landforms: readonly Landform[] | null = null;
  #lines: readonly LineFeature[] | null = null;

  constructor(
    readonly ground: Ground,
    readonly wish: DrillWish,
    readonly settings: LegSettings,
    readonly chance: Chance,
    private readonly signal?: AbortSignal,
  ) {}

  /** A place within the sheet and on the map, or null when this throw missed the map. */
  place(): LonLat | null {
    const { centre, radiusM } = this.wish;
    const at = direct(
      centre,
      trueBearing(this.chance.between(0, 360)),
      radiusM * Math.sqrt(this.chance.next()),
    );
    return this.isOnMap(at) ? at : null;
  }

  /** A pair of places so far apart on the sheet, millimetres; null when this throw missed. */
  pair(leastMm: number, mostMm: number): readonly [LonLat, LonLat] | null {
    const from = this.place();
    if (!from) return null;
    const farM = (this.chance.between(leastMm, mostMm) * this.wish.scale) / 1000;
    const to = direct(from, trueBearing(this.chance.between(0, 360)), farM);
    return this.isOnSheet(to) ? [from, to] : null;
  }

  isOnSheet(at: LonLat): boolean {
    const { centre, radiusM } = this.wish;
    return inverse(centre, at).distanceM <= radiusM && this.isOnMap(at);
  }

  isOnMap([lon, lat]: LonLat): boolean {
    const [west, south, east, north] = this.ground.map.info.bounds;
    return lon > west && lon < east && lat > south && lat < north;
  }

  get level(): LevelFigures {
    return LEVELS[this.wish.level ?? "middle"];
  }

  /** The whole sheet, and a little around it. */
  get box(): Bbox {
    const { centre, radiusM } = this.wish;
    return growBbox(bboxOf([centre]) as Bbox, radiusM + 50);
  }

  async prepare(box: Bbox): Promise<void> {
    await prepareGround(this.ground, box, this.signal);
  }

  /** Those of the sheet. */
  async landforms(): Promise<readonly Landform[]> {
    if (!this.#landforms) {
      await this.prepare(this.box);
      this.#landforms = landformsIn(this.ground, this.box).filter(({ lonLat }) => this.isOnSheet(lonLat));
    }
    return this.#landforms;
  }

  /** Lines of the sheet that can be walked along and that stop one who meets them; the shape of the ground is none of them. */
  async lines(): Promise<readonly LineFeature[]> {
    if (!this.#lines) {
      await this.prepare(this.box);
      this.#lines = this.ground.map.lines(this.box, LINES);
    }
    return this.#lines;
  }

  /** Whether as many legs were looked at as one worksheet may. */
  get isSearched(): boolean {
    return this.#legKm >= MOST_LEG_KM;
  }

  /** Null when enough legs were looked at. */
  async leg(from: LonLat, to: LonLat): Promise<LegFigures | null> {
    if (this.isSearched) return null;
    this.#legKm += Math.max(1, inverse(from, to).distanceM / 1000);
    await this.prepare(unionBbox(legSearchBox(from, to, this.settings), attackBox(to)));
    return legFigures(
      { n: 1, from: { label: "", lonLat: from }, to: { label: "", lonLat: to } },
      this.ground,
      this.settings,
    );
  }

  /** Heights along the way from one place to another. */
  async profile(from: LonLat, to: LonLat): Promise<Profile> {
    await this.prepare(growBbox(bboxOf([from, to]) as Bbox, 50));
    return profileOf(this.ground, legFrame(from, to));
  }

  /** Declination and convergence at a place, degrees, east positive; declination null where no model covers the day. */
  norths(at: LonLat): { readonly declinationDeg: number | null; readonly convergenceDeg: number } {
    const { convergenceDeg } = toUtm(at);
    return { convergenceDeg, declinationDeg: declinationsAt(at, null, convergenceDeg, this.settings).deg };
  }
}

/** Bearing and length as a protractor and a ruler have them on a sheet in UTM: from the coordinates, in the first place's zone. */
export function onGrid(
  from: LonLat,
  to: LonLat,
): {
  readonly a: Utm;
  readonly b: Utm;
  readonly bearing: GridBearing;
  readonly eastM: number;
  readonly northM: number;
} {
  const a = toUtm(from);
  const b = toUtm(to, a.zone);
  const [eastM, northM] = [b.eastingM - a.eastingM, b.northingM - a.northingM];
  return { a, b, eastM, northM, bearing: gridBearing(Math.atan2(eastM, northM) / DEG) };
}

export const marksOf = (n: number, ...places: readonly LonLat[]): Mark[] =>
  places.map((lonLat, i) => ({ label: `${n}${String.fromCharCode(65 + i)}`, lonLat }));

/** Asks question `n`; null when this throw gave none that is clear. */
export type Asker = (ground: DrillGround, n: number) => Promise<Omit<Question, "n" | "kind"> | null>;
