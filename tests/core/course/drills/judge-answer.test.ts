/** Answers as people type them; what is right was worked out by hand. */
import { describe, expect, it } from "vitest";
import {
  figureAnswer,
  type DrillKind,
  type Question,
  wordAnswer,
} from "../../../../core/course/drills/drill.ts";
import { judgeAnswer } from "../../../../core/course/drills/judge-answer.ts";

const asked = (kind: DrillKind, answer: Question["answer"]): Question => ({
  n: 1,
  kind,
  ask: "",
  marks: [],
  joined: false,
  answer,
  working: [],
});
const bearing = asked("bearing", figureAnswer("359° grid", 358.8, 2, "Right within 2°."));
const distance = asked("distance", figureAnswer("1250 m", 1250, 25, "Right within 25 m."));
const climb = asked(
  "climb",
  figureAnswer("40\u00a0m up, 70\u00a0m down", 40, 10, "Right within one interval, 10\u00a0m, each."),
);
const reference = asked("reference", wordAnswer("402 321 (in full 08T PS 402 321)", "…"));
const spur = asked("landform", wordAnswer("A spur", "“ridge” counts as well."));
const aimOff = asked("aimOff", figureAnswer("027° grid, then turn left", 27, 0.5, "…"));

describe("an answer", () => {
  it.each([
    // Round the circle: 1° lies 2.2° from 358.8°, 360 and 0 are 1.2° off.
    [bearing, "359", "right", 0.2],
    [bearing, "0°", "right", 1.2],
    [bearing, "001 grid", "wrong", 2.2],
    [bearing, "400", "unread", null],
    [bearing, "north", "unread", null],
    [distance, "1.27 km", "right", 20],
    [distance, "1 250", "right", 0],
    [distance, "1300 m", "wrong", 50],
    [distance, "far", "unread", null],
    [climb, "40 up 80 down", "right", 10],
    [climb, "60 / 70", "wrong", 20],
    [climb, "40", "unread", null],
    [reference, "402321", "right", null],
    [reference, "PS 401 322", "right", null],
    [reference, "404 321", "wrong", null],
    // Up before along is wrong, and nobody is told it was near.
    [reference, "321 402", "wrong", null],
    [spur, "Ridge", "right", null],
    [spur, "a spur", "right", null],
    [spur, "valley", "wrong", null],
    [aimOff, "27 left", "right", 0],
    [aimOff, "027, turn L", "right", 0],
    [aimOff, "27 right", "wrong", 0],
    [aimOff, "28 left", "wrong", 1],
  ] as const)("%# “%s” is judged as a person would", (question, typed, kind, off) => {
    const judged = judgeAnswer(question, typed);
    expect(judged.kind).toBe(kind);
    if (off !== null && "off" in judged) expect(judged.off).toBeCloseTo(off, 9);
  });

  it("is left to the learner where only an eye can compare", () => {
    expect(judgeAnswer(asked("profile", wordAnswer("", "")), "x")).toEqual({ kind: "compare" });
    expect(judgeAnswer(asked("handrail", wordAnswer("", "")), "x")).toEqual({ kind: "compare" });
  });
});
