/**
 * The World Magnetic Model's field at a place and time.
 * Only this file imports geomagnetism, which carries the coefficients. Within one model every coefficient is linear
 * in time, and so is each component of the field: two evaluations give any year of the model and its exact yearly
 * change, whatever dates the library itself lets through.
 */
import geomagnetism from "geomagnetism";
import { Fault } from "../fault.ts";
import type { LonLat } from "../units/position.ts";

export type MagneticModelName = "WMM2025" | "WMM2020" | "WMM2015v2";

interface ModelTerm {
  readonly name: MagneticModelName;
  /** First decimal year, and the one it no longer covers. */
  readonly from: number;
  readonly until: number;
  /** Two years at whose first day the library picks this model. */
  readonly sample: readonly [Date, number, Date, number];
}

/** The library's decimal year of a date counts 365 days to every year; these dates are exact in it. */
const TERMS: readonly ModelTerm[] = [
  {
    name: "WMM2025",
    from: 2025,
    until: 2030,
    sample: [new Date("2025-01-01"), 2025, new Date("2029-01-01"), 2029],
  },
  {
    name: "WMM2020",
    from: 2020,
    until: 2025,
    sample: [new Date("2020-01-01"), 2020, new Date("2024-01-01"), 2024],
  },
  // The second issue of 2015's model, which replaced the first for the whole term.
  {
    name: "WMM2015v2",
    from: 2015,
    until: 2020,
    sample: [new Date("2019-01-01"), 2019, new Date("2019-07-02T12:00Z"), 2019.5],
  },
];

/** The years some model covers, the last one excluded. */
export const MODEL_YEARS = { from: 2015, until: 2030 } as const;

/** How far from 2000 a year may lie when the user insists: beyond, carrying on the yearly change is plain nonsense. */
const BEYOND_YEARS = 50;

export interface MagneticField {
  readonly model: MagneticModelName;
  /** North and east component, nanotesla. */
  readonly northNT: number;
  readonly eastNT: number;
  /** Their change, nanotesla a year. */
  readonly northNTPerYear: number;
  readonly eastNTPerYear: number;
  /** The year lies outside every model: carried on from the nearest at its yearly change, and off by unknown amounts. */
  readonly beyondModel: boolean;
}

type Timed = ReturnType<typeof geomagnetism.model>;
const timed = new Map<MagneticModelName, readonly [Timed, Timed]>();

function timedModels(term: ModelTerm): readonly [Timed, Timed] {
  let pair = timed.get(term.name);
  if (!pair) {
    pair = [geomagnetism.model(term.sample[0]), geomagnetism.model(term.sample[2])];
    timed.set(term.name, pair);
  }
  return pair;
}

/** The model for a year, or the nearest when `beyond` allows one that does not cover it. */
function termFor(year: number, beyond: boolean): ModelTerm | undefined {
  const covering = TERMS.find(({ from, until }) => year >= from && year < until);
  if (covering || !beyond || !(Math.abs(year - 2000) <= BEYOND_YEARS)) return covering;
  return year >= MODEL_YEARS.until ? TERMS[0] : TERMS.at(-1);
}

/**
 * @param heightM above the WGS 84 ellipsoid, metres
 * @param beyond carry the nearest model on to a year none covers, 1950 to 2050 at most
 * @throws Fault "out-of-range" for a year no model covers or a height outside −1 km to 850 km
 */
export function magneticField(
  [lon, lat]: LonLat,
  heightM: number,
  year: number,
  beyond = false,
): MagneticField {
  const term = termFor(year, beyond);
  if (!term)
    throw new Fault(
      "out-of-range",
      `There is no magnetic model for ${Number.isFinite(year) ? Math.floor(year) : String(year)}: the models here cover the years ${MODEL_YEARS.from} to ${MODEL_YEARS.until - 1}.`,
      null,
      "Choose a date within those years, or enter the declination printed on the map.",
    );
  if (!(heightM >= -1000 && heightM <= 850_000))
    throw new Fault(
      "out-of-range",
      `A height of ${heightM} m is outside the magnetic model: it covers −1 km to 850 km.`,
    );
  const [, t0, , t1] = term.sample;
  const [a, b] = timedModels(term).map((model) => model.point([lat, lon, heightM / 1000])) as [
    ReturnType<Timed["point"]>,
    ReturnType<Timed["point"]>,
  ];
  const northNTPerYear = (b.x - a.x) / (t1 - t0);
  const eastNTPerYear = (b.y - a.y) / (t1 - t0);
  return {
    model: term.name,
    northNT: a.x + northNTPerYear * (year - t0),
    eastNT: a.y + eastNTPerYear * (year - t0),
    northNTPerYear,
    eastNTPerYear,
    beyondModel: !(year >= term.from && year < term.until),
  };
}
