/**
 * What to follow, where to aim, what stops: small maps with one right answer any instructor knows.
 * Sources of the practice: US Army FM 3-21.8, navigation aids, paragraphs 3-91 and following (handrails; catching features;
 * attack points; deliberate offset: "when the goal lies on a line … steer knowingly to one side of it", "a feature that
 * cannot be mistaken, near the goal", "to meet it is to know one has gone too far"), told in our words. The figures are
 * plane geometry, worked in the comments. What has no source is marked.
 */
import { describe, expect, test } from "vitest";
import { advised, DEG, legOn, line, point } from "./set-piece.ts";

const across = (e: number, from = -1500, to = 1500): [number, number][] => [
  [e, from],
  [e, to],
];

describe("aiming off", () => {
  test("a target on a stream: aim off upstream, then turn downstream", async () => {
    // The stream runs south: upstream is north, the leg's left. On a line square to the leg the inner edge of the 6° cone
    // has to meet it 10 m clear: at 7° it is 1000·tan 1° = 17.5 m; the outer edge 1000·tan 13° = 231 m, the mean
    // 1000·tan 7° = 123 m aside. That one turns downstream is common practice, no source.
    const { leg, advice } = await advised({
      lines: [line("stream", across(1000), "Fern Beck")],
      height: (_, n) => 200 + 0.05 * n,
    });
    expect(leg.aimOff).toMatchObject({
      side: "left",
      turn: "right",
      offsetDeg: 7,
      line: { kind: "stream", name: "Fern Beck" },
    });
    expect(leg.aimOff?.bearingTrueDeg).toBeCloseTo(90 - 7, 1);
    expect(leg.aimOff?.meanAlongM).toBeCloseTo(1000 * Math.tan(7 * DEG), 0);
    expect(leg.aimOff?.alongM).toBeCloseTo(1000 * Math.tan(13 * DEG), 0);
    expect(leg.aimOff?.why).toContain("turning then leads downhill");
    expect(leg.aimOff?.onReaching).toMatch(/^On reaching the stream Fern Beck .*, turn right and follow it/);
    expect(advice.better[0]).toMatchObject({ change: "aimOff" });
  });

  test("of two parallel streams the second is meant: it is said that one is crossed before it", () => {
    const { aimOff, backstop, crossings } = legOn({
      lines: [line("stream", across(930)), line("stream", across(1000))],
    });
    expect(aimOff?.line.kind).toBe("stream");
    // The bearing turned by 7° meets the first at 930 / cos 7° = 937 m.
    expect(aimOff?.caution).toContain("Another stream is crossed before it, at 937 m: go on over that one.");
    expect(backstop).toMatchObject({ kind: "stream", beyondM: 0 });
    expect(crossings.filter(({ kind }) => kind === "stream").map(({ atM }) => Math.round(atM))).toContain(
      930,
    );
  });

  test("a target beside no line: nothing to aim off on", () =>
    expect(legOn({ lines: [line("stream", across(1060))] }).aimOff).toBeNull());
});

describe("attack points", () => {
  test("a ruin in a re-entrant, not on the map: the stream junction below it", () => {
    // Two streams meet 140 m before and 40 m south of the ruin and run off to the west; the ruin lies up between them.
    const { attackPoints, targetIsHard } = legOn({
      lines: [
        line("stream", [
          [1300, 230],
          [860, -40],
        ]),
        line("stream", [
          [1300, -260],
          [860, -40],
        ]),
        line(
          "stream",
          [
            [860, -40],
            [500, -300],
            [0, -500],
          ],
          "Fern Beck",
        ),
      ],
      height: (e, n) => 200 + 0.1 * e + 0.001 * n * n,
    });
    expect(targetIsHard?.hard).toBe(true);
    expect(attackPoints[0]).toMatchObject({ kind: "confluence" });
    expect(attackPoints[0]?.words).toMatch(/^the confluence of /);
    expect(attackPoints[0]?.distanceM).toBeCloseTo(Math.hypot(140, 40), 0);
    // From there 140 m east and 40 m north.
    expect(attackPoints[0]?.bearingTrueDeg).toBeCloseTo(90 - Math.atan2(40, 140) / DEG, 0);
    // 65 double paces to 100 m: common practice, no source.
    expect(attackPoints[0]?.paces).toBe(Math.round(0.65 * Math.hypot(140, 40)));
  });

  test("a target at a junction of paths is easy: no attack point", () => {
    const { attackPoints, targetIsHard } = legOn({
      lines: [
        line("path", across(1000)),
        line("path", [
          [1000, 0],
          [1600, 300],
        ]),
        line("road", across(850)),
        line("path", [
          [850, 0],
          [500, 200],
        ]),
      ],
    });
    expect(targetIsHard).toMatchObject({ hard: false });
    expect(targetIsHard?.because).toContain("junction");
    expect(attackPoints).toEqual([]);
  });

  test("a power line over a path is no junction", () => {
    const path = line("path", [
      [400, 120],
      [1600, 120],
    ]);
    const over = legOn({ lines: [path, line("powerLine", across(900))] });
    expect(over.targetIsHard?.hard).toBe(true);
    expect(over.attackPoints.map(({ kind }) => kind)).not.toContain("junction");
    // A road in its place makes one, 100 m before and 120 m left of the target.
    const met = legOn({ lines: [path, line("road", across(900))] });
    expect(met.attackPoints[0]).toMatchObject({ kind: "junction" });
    expect(met.attackPoints[0]?.distanceM).toBeCloseTo(Math.hypot(100, 120), 0);
  });

  test("the corner of a wood near a target in the open", () => {
    const { attackPoints } = legOn({
      areas: [
        {
          role: "wood",
          name: "High Wood",
          ring: [
            [600, 60],
            [900, 60],
            [900, 500],
            [600, 500],
          ],
        },
      ],
    });
    expect(attackPoints[0]).toMatchObject({ kind: "corner", words: "the corner of High Wood" });
    expect(attackPoints[0]?.distanceM).toBeCloseTo(Math.hypot(100, 60), 0);
  });

  test("where the map shows nothing, the ground itself: the foot of a spur, or a hill top", () => {
    // A knoll 40 m high, 120 m before and 50 m left of the target: its top is looked for first. Its shape is a Gaussian, as
    // hills of the handbook's first kind: the land falls in every direction (FM 3-25.26 paragraph 10-6).
    const knoll = legOn({
      height: (e, n) => 200 + 40 * Math.exp(-((e - 880) ** 2 + (n - 50) ** 2) / (2 * 70 ** 2)),
    });
    expect(knoll.targetIsHard?.hard).toBe(true);
    expect(knoll.attackPoints[0]).toMatchObject({ kind: "hill", words: "the top of the hill" });
    expect(Math.abs((knoll.attackPoints[0]?.distanceM ?? NaN) - Math.hypot(120, 50))).toBeLessThan(10);
    // A spur runs south from high ground in the north and ends 80 m left of the target, on level ground.
    const spur = legOn({
      height: (e, n) =>
        200 +
        0.3 * Math.max(0, n - 450) +
        Math.max(0, Math.min(60, 0.25 * (n - 80))) * Math.exp(-((e - 960) ** 2) / (2 * 60 ** 2)),
    });
    expect(
      spur.attackPoints.some(({ kind, words }) => kind === "spur" && words === "the foot of the spur"),
    ).toBe(true);
  });

  test("a summit near the target", () => {
    const { attackPoints } = legOn({
      points: [point("peak", [880, 60], "Grey Top")],
      height: (e, n) => 300 - 0.1 * Math.hypot(e - 880, n - 60),
    });
    expect(attackPoints[0]).toMatchObject({ kind: "peak", words: "Grey Top" });
  });
});

describe("handrails", () => {
  test("a path parallel on the right to 400 m: followed so far, on the right", () => {
    const { handrails } = legOn({
      lines: [
        line("path", [
          [-100, -25],
          [400, -25],
          [420, -500],
        ]),
      ],
    });
    expect(handrails).toHaveLength(1);
    expect(handrails[0]).toMatchObject({ kind: "path", side: "right" });
    expect(handrails[0]?.fromM).toBeCloseTo(0, 1);
    expect(Math.abs((handrails[0]?.toM ?? NaN) - 400)).toBeLessThan(16);
    expect(handrails[0]?.meanOffsetM).toBeCloseTo(25, 0);
    expect(handrails[0]?.coverage).toBeCloseTo(0.4, 1);
  });

  test("a wall that curves away is followed only while it helps", () => {
    // Straight 20 m aside to 500 m, then an arc of radius 200 m: it has turned by the 35° allowed after
    // 200·sin 35° = 115 m, where it lies 20 + 200·(1 − cos 35°) = 56 m aside.
    const arc = Array.from({ length: 46 }, (_, i): [number, number] => {
      const turn = 2 * i * DEG;
      return [500 + 200 * Math.sin(turn), 20 + 200 * (1 - Math.cos(turn))];
    });
    const { handrails } = legOn({ lines: [line("wall", [[-50, 20], ...arc], "Long Wall")] });
    expect(handrails).toHaveLength(1);
    expect(handrails[0]).toMatchObject({ kind: "wall", name: "Long Wall", side: "left" });
    expect(Math.abs((handrails[0]?.toM ?? NaN) - 615)).toBeLessThan(5);
    expect(Math.abs((handrails[0]?.maxOffsetM ?? NaN) - 56)).toBeLessThan(4);
  });

  test("a lake on the left: its shore is followed, and it is a danger on that side", () => {
    const { handrails, hazards } = legOn({
      areas: [
        {
          role: "water",
          name: "Long Tarn",
          ring: [
            [300, 20],
            [700, 20],
            [700, 300],
            [300, 300],
          ],
        },
      ],
    });
    expect(handrails[0]).toMatchObject({ kind: "shore", name: "Long Tarn", side: "left" });
    expect(Math.abs((handrails[0]?.fromM ?? NaN) - 300)).toBeLessThan(16);
    expect(Math.abs((handrails[0]?.toM ?? NaN) - 700)).toBeLessThan(16);
    expect(handrails[0]?.meanOffsetM).toBeCloseTo(20, 0);
    const water = hazards.filter(({ kind }) => kind === "water");
    expect(water).toMatchObject([{ name: "Long Tarn", side: "left" }]);
    // The cone is 10 m + s·tan 6° wide to each side: it reaches 20 m long before 300 m.
    expect(water[0]?.fromM).toBeCloseTo(300, 0);
    expect(water[0]?.toM).toBeCloseTo(700, 0);
    expect(water[0]?.offsetM).toBeCloseTo(20, 0);
  });
});

describe("what stops", () => {
  test("a road behind a hill: it stops one though it is not seen", () => {
    const { backstop, sight } = legOn({
      lines: [line("road", across(1200), "Moor Road")],
      // A hill 60 m high half-way.
      height: (e) => 100 + 60 * Math.exp(-(((e - 500) / 120) ** 2)),
    });
    expect(backstop).toMatchObject({ kind: "road", name: "Moor Road" });
    expect(backstop?.beyondM).toBeCloseTo(200, 0);
    expect(backstop?.crossingDeg).toBeGreaterThan(84);
    expect(sight.targetVisible).toBe(false);
    expect(Math.abs((sight.hiddenByM ?? NaN) - 500)).toBeLessThan(60);
  });

  test("a weak stop at the target, a sure one behind it: both are named", () => {
    const { backstop, notes } = legOn({
      lines: [line("path", across(1000)), line("river", across(1150), "Fern Water")],
    });
    expect(backstop).toMatchObject({ kind: "path", beyondM: 0 });
    expect(notes.join(" ")).toContain(
      "The target lies on the path, which is itself the stop: on reaching it, know which way to turn. Behind it the river Fern Water stops who goes on, 150 m beyond the target.",
    );
  });

  test("a wall that lets half of them by gives way to the road behind it", () => {
    const { backstop } = legOn({
      lines: [line("wall", across(1080, -1500, 10)), line("road", across(1250), "Moor Road")],
    });
    expect(backstop).toMatchObject({ name: "Moor Road" });
    expect(backstop?.beyondM).toBeCloseTo(250, 0);
    expect(backstop?.stoppedShare).toBeCloseTo(1, 6);
  });
});
