/** More aids do not lower the odds: made-up lines, drawn by fast-check from a fixed seed, the same walkers with and without. */
import * as turf from "@turf/turf";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { OddsAids, OddsLine, OddsRail } from "../../../../core/legs/odds/scene.ts";
import { firstMet, segmentSlabs } from "../../../../core/legs/odds/segment-slabs.ts";
import { type OddsRun, simulate } from "../../../../core/legs/odds/simulate.ts";
import { BY_MARKS, type OddsSpread, UNAIDED } from "../../../../core/legs/odds/spread.ts";

const WALKERS = 4000;
/** Twice the standard deviation of a share of 4000 even draws is 1.6 points; the same walkers differ by less. */
const NOISE = 0.016;
const RUNS = { seed: 20260615, numRuns: 30, endOnFailure: true };

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const someSpread: fc.Arbitrary<OddsSpread> = fc.record({
  steering: fc.constantFrom(BY_MARKS, UNAIDED),
  paceError: number(0.02, 0.1),
  sightM: number(10, 60),
  walkOnM: fc.constant(500),
  railReachM: fc.constant(60),
});
const someLength = number(200, 2000);
const surely = number(0.5, 1);

/** A line across the leg at a share of it, wriggling, at any angle. */
const lineAcross = (lengthM: number, from: number, to: number): fc.Arbitrary<OddsLine> =>
  fc
    .record({
      at: number(from, to),
      slant: number(-1.2, 1.2),
      bends: fc.array(number(-25, 25), { minLength: 5, maxLength: 9 }),
      surely,
      key: fc.integer(),
    })
    .map(({ at, slant, bends, ...rest }) => ({
      st: bends.flatMap((bend, i) => {
        const t = (i / (bends.length - 1) - 0.5) * 800;
        return [at * lengthM + t * Math.tan(slant) + bend, t];
      }),
      ...rest,
    }));
const railBeside = (lengthM: number): fc.Arbitrary<OddsRail> =>
  fc
    .record({
      from: number(0, 0.6),
      share: number(0.2, 0.6),
      offsets: fc.array(number(-50, 50), { minLength: 3, maxLength: 6 }),
      surely,
      key: fc.integer(),
    })
    .map(({ from, share, offsets, ...rest }) => ({
      stretches: [
        offsets.flatMap((t, i) => [
          lengthM * Math.min(1, from + (share * i) / (offsets.length - 1)),
          // On one side of the leg, as handrails are.
          Math.abs(t) * Math.sign(offsets[0] || 1),
        ]),
      ],
      ...rest,
    }));

const legWith = <T>(aid: (lengthM: number) => fc.Arbitrary<T>) =>
  someLength.chain((lengthM) =>
    fc.record({
      lengthM: fc.constant(lengthM),
      aid: aid(lengthM),
      rails: fc.array(railBeside(lengthM), { maxLength: 2 }),
      collecting: fc.array(lineAcross(lengthM, 0, 0.95), { maxLength: 3 }),
      stop: fc.array(lineAcross(lengthM, 1.02, 1.3), { maxLength: 1 }),
      spread: someSpread,
      seed: fc.nat(1000),
    }),
  );

function compare(
  lengthM: number,
  spread: OddsSpread,
  seed: number,
  less: OddsAids,
  more: OddsAids,
): readonly [before: OddsRun, after: OddsRun] {
  const draw = { walkers: WALKERS, seed };
  const before = simulate({ lengthM }, less, spread, draw);
  const after = simulate({ lengthM }, more, spread, draw);
  expect(after.find, "found").toBeGreaterThan(before.find - NOISE);
  expect(after.find + after.stopped, "found or stopped").toBeGreaterThan(
    before.find + before.stopped - NOISE,
  );
  return [before, after];
}

describe("one more aid lowers neither the share found nor that found or stopped", () => {
  const helped = { stop: 0, rail: 0, line: 0, marks: 0 };

  test("a stop", () => {
    fc.assert(
      fc.property(
        legWith((lengthM) => lineAcross(lengthM, 0.98, 1.3)),
        ({ lengthM, aid, rails, collecting, spread, seed }) => {
          const aids = { rails, collecting };
          const [before, after] = compare(lengthM, spread, seed, aids, { ...aids, stop: [aid] });
          if (after.missed < before.missed - NOISE) helped.stop++;
        },
      ),
      RUNS,
    );
    expect(helped.stop).toBeGreaterThan(12);
  });

  test("a handrail", () => {
    fc.assert(
      fc.property(legWith(railBeside), ({ lengthM, aid, rails, collecting, stop, spread, seed }) => {
        const aids = { collecting, stop };
        const [before, after] = compare(
          lengthM,
          spread,
          seed,
          { ...aids, rails },
          { ...aids, rails: [...rails, aid] },
        );
        if (after.find > before.find + NOISE) helped.rail++;
      }),
      RUNS,
    );
    expect(helped.rail).toBeGreaterThan(6);
  });

  test("a line counted from", () => {
    fc.assert(
      fc.property(
        legWith((lengthM) => lineAcross(lengthM, 0.05, 0.95)),
        ({ lengthM, aid, rails, collecting, stop, spread, seed }) => {
          const aids = { rails, stop };
          const [before, after] = compare(
            lengthM,
            spread,
            seed,
            { ...aids, collecting },
            { ...aids, collecting: [...collecting, aid] },
          );
          if (after.find > before.find + 0.005) helped.line++;
        },
      ),
      RUNS,
    );
    expect(helped.line).toBeGreaterThan(1);
  });

  test("steering marks", () => {
    fc.assert(
      fc.property(legWith(railBeside), ({ lengthM, rails, collecting, stop, spread, seed }) => {
        const aids = { rails, collecting, stop };
        const draw = { walkers: WALKERS, seed };
        const without = simulate({ lengthM }, aids, { ...spread, steering: UNAIDED }, draw);
        const marks = simulate({ lengthM }, aids, { ...spread, steering: BY_MARKS }, draw);
        expect(marks.find).toBeGreaterThan(without.find - NOISE);
        if (marks.find > without.find + NOISE) helped.marks++;
      }),
      RUNS,
    );
    expect(helped.marks).toBeGreaterThan(12);
  });
});

/** Whole millimetres, as the lines of a leg are. */
const mm = (min: number, max: number) =>
  fc.integer({ min: 1000 * min, max: 1000 * max }).map((n) => n / 1000);

test("the first line met on a step is the one turf finds nearest", () => {
  let [met, free] = [0, 0];
  fc.assert(
    fc.property(
      fc.array(fc.array(fc.tuple(mm(0, 40), mm(-20, 20)), { minLength: 2, maxLength: 6 }), {
        minLength: 1,
        maxLength: 12,
      }),
      fc.tuple(mm(-5, 45), mm(-20, 20), mm(-5, 45), mm(-20, 20)),
      (lines, [aS, aT, bS, bT]) => {
        const slabs = segmentSlabs(lines.map((line, thing) => ({ st: line.flat(), thing })));
        const meeting = { segment: -1, at: 0 };
        firstMet(slabs, aS, aT, bS, bT, new Int32Array(lines.length), 1, meeting);
        if (aS === bS && aT === bT) return;
        // turf's crossings of lines are those of a plane, whatever the coordinates are called.
        const step = turf.lineString([
          [aS, aT],
          [bS, bT],
        ]);
        const distances = lines
          .flatMap(
            (line) =>
              turf.lineIntersect(step, turf.lineString(line), { ignoreSelfIntersections: true }).features,
          )
          .map(({ geometry: { coordinates } }) =>
            Math.hypot((coordinates[0] as number) - aS, (coordinates[1] as number) - aT),
          );
        const nearest = Math.min(...distances);
        if (meeting.segment < 0) {
          free++;
          expect(distances).toEqual([]);
        } else {
          met++;
          expect(meeting.at * Math.hypot(bS - aS, bT - aT)).toBeCloseTo(nearest, 5);
        }
      },
    ),
    { seed: 4, numRuns: 600, endOnFailure: true },
  );
  expect(met).toBeGreaterThan(100);
  expect(free).toBeGreaterThan(30);
});
