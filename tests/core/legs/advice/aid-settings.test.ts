import { describe, expect, test } from "vitest";
import { DEFAULT_ADVICE_SETTINGS } from "../../../../core/legs/advice/advice-settings.ts";
import {
  type AidSettings,
  adviceSettingsOf,
  checkAids,
  LEG_CHOICES,
  legChoicesOf,
  USUAL_AIDS,
} from "../../../../core/legs/advice/aid-settings.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../../core/legs/leg-settings.ts";

describe("what a person chooses of aids and odds", () => {
  test("begins as core's own defaults, nothing lost on the way to figures and to advice", () => {
    expect(adviceSettingsOf(USUAL_AIDS)).toEqual(DEFAULT_ADVICE_SETTINGS);
    const choices = legChoicesOf(USUAL_AIDS);
    expect(Object.keys(choices).toSorted()).toEqual([...LEG_CHOICES].toSorted());
    expect({ ...DEFAULT_LEG_SETTINGS, ...choices }).toEqual(DEFAULT_LEG_SETTINGS);
  });

  test("a choice reaches the one or the other", () => {
    const chosen = { ...USUAL_AIDS, driftDeg: 9, sightM: 80 };
    expect(legChoicesOf(chosen).driftDeg).toBe(9);
    expect(adviceSettingsOf(chosen).sightM).toBe(80);
    expect(Object.keys(adviceSettingsOf(chosen))).not.toContain("driftDeg");
  });

  test("the usual can be, and so can the ends of what is allowed", () => {
    expect(checkAids(USUAL_AIDS)).toBe(USUAL_AIDS);
    expect(() => checkAids({ ...USUAL_AIDS, driftDeg: 30, openHopM: 400, steepDeg: [25] })).not.toThrow();
  });

  test.each<[string, Partial<AidSettings>, RegExp]>([
    ["a drift beyond all bounds", { driftDeg: 90 }, /The drift must lie between 1° and 30°, not 90°/],
    ["no number", { sightM: Number.NaN }, /seen must lie/],
    ["a pace count off by more than it can be", { paceError: 0.9 }, /between 0 % and 40 %, not 90 %/],
    ["half a walker", { walkers: 2000.5 }, /whole ones/],
    ["angles that do not rise", { steepDeg: [40, 35] }, /each steeper/],
    ["no angle", { steepDeg: [] }, /one to 5 angles/],
    ["a nearer mark in the open", { hopM: 50, openHopM: 20 }, /not nearer than in woods/],
  ])("%s is refused, and what is wrong is said", (_, change, what) => {
    expect(() => checkAids({ ...USUAL_AIDS, ...change })).toThrow(what);
  });
});
