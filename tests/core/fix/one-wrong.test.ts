/**
 * One badly wrong bearing of four, the other three taken as well as hand compasses allow: whoever is named is the wrong one, and
 * the place without it is the right one. Places and errors by chance, truth by construction: no source needed.
 * `LEGWRIGHT_WRONG=10000` is the long run.
 */
import { expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import type { Fix } from "../../../core/fix/fix.ts";
import { resect } from "../../../core/fix/from-bearings.ts";
import { type Sighting, usualFixSettings } from "../../../core/fix/sighting.ts";
import { direct, inverse } from "../../../core/geodesy/geodesic.ts";
import { normalise180, normalise360, trueBearing } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { evenFrom, normalFrom } from "./support/chance.ts";

const CASES = Number(process.env["LEGWRIGHT_WRONG"] ?? 400);
const HERE: LonLat = [-3.2, 54.4];
const SETTINGS = usualFixSettings("2026-06-01");

interface Case {
  readonly sightings: readonly Sighting[];
  readonly wrong: number;
}

const uniform = evenFrom(21);
const normal = normalFrom(22);

/** Points 500 m to 5 km off, no two within 25° of one another; one bearing 15° to 165° off, the others by 2° (1 σ). */
function someCase(): Case {
  const azimuths: number[] = [];
  while (azimuths.length < 4) {
    const azimuth = 360 * uniform();
    if (azimuths.every((other) => Math.abs(normalise180(azimuth - other)) > 25)) azimuths.push(azimuth);
  }
  const wrong = Math.floor(4 * uniform());
  const off = (15 + 150 * uniform()) * (uniform() < 0.5 ? -1 : 1);
  const sightings = azimuths.map((azimuth, i): Sighting => {
    const known = direct(HERE, trueBearing(azimuth), 500 + 4500 * uniform());
    const error = i === wrong ? off : 2 * normal();
    return { known, name: null, north: "true", deg: normalise360(inverse(HERE, known).bearing + error) };
  });
  return { sightings, wrong };
}

/** Table value for two degrees of freedom (Abramowitz and Stegun 26.8, from memory). */
const CHI_SQUARE_95 = 5.991;

/** By the inverse of the covariance, worked out here. */
function squaredErrors({ at, covariance: { ee, en, nn } }: Fix, truth: LonLat): number {
  const { bearing, distanceM } = inverse(at, truth);
  const [e, n] = [
    distanceM * Math.sin((bearing * Math.PI) / 180),
    distanceM * Math.cos((bearing * Math.PI) / 180),
  ];
  return (nn * e * e - 2 * en * e * n + ee * n * n) / (ee * nn - en * en);
}

it(`of ${CASES} fixes with one of four bearings badly wrong, no honest bearing is named alone`, () => {
  const count = { named: 0, honest: 0, listed: 0, unlisted: 0, quiet: 0, held: 0, checked: 0 };
  for (let n = 0; n < CASES; n++) {
    const { sightings, wrong } = someCase();
    let fix: Fix;
    try {
      fix = resect(sightings, SETTINGS);
    } catch (thrown) {
      const { remedy } = Fault.from(thrown);
      const named = [...(remedy ?? "").matchAll(/bearing (\d)/g)].map(([, one]) => Number(one) - 1);
      if (named.length === 1) count[named[0] === wrong ? "named" : "honest"]++;
      else count[named.includes(wrong) ? "listed" : "quiet"]++;
      continue;
    }
    if (fix.suspect !== null) {
      count[fix.suspect === wrong ? "named" : "honest"]++;
      // The place without it, from the three honest ones, holds the truth as its ellipse says.
      const rest = resect(
        sightings.filter((_, i) => i !== fix.suspect),
        SETTINGS,
      );
      count.checked++;
      if (squaredErrors(rest, HERE) < CHI_SQUARE_95) count.held++;
      expect(inverse(rest.at, fix.bearings[fix.suspect]?.without?.at ?? HERE).distanceM).toBeLessThan(1);
    } else if (fix.suspects.length > 1) count[fix.suspects.includes(wrong) ? "listed" : "unlisted"]++;
    else count.quiet++;
  }
  console.log(`one wrong of four, ${CASES} cases:`, JSON.stringify(count));
  // An honest one blamed alone would send a person the wrong way: at most one in a thousand.
  expect(count.honest).toBeLessThanOrEqual(Math.max(1, CASES / 1000));
  expect(count.unlisted).toBeLessThanOrEqual(CASES / 500);
  expect(count.named / CASES).toBeGreaterThan(0.84);
  expect((count.named + count.listed) / CASES).toBeGreaterThan(0.96);
  expect(count.held / count.checked).toBeGreaterThan(0.92);
}, 3_600_000);
