import { expect, test } from "vitest";
import { gridMagneticAngle, northRule } from "../../../core/geodesy/north-rule.ts";
import { normalise360 } from "../../../core/units/angle.ts";

const plain = (text: string): string => text.replaceAll("\u00a0", " ");

// Source: US Army Soldier's Manual of Common Tasks (STP 21-1-SMCT): with a G-M angle of 9° east, magnetic 190° is grid
// 199°: from compass to map nine degrees are added.
test("9° east", () => {
  const rule = northRule(9, "grid");
  expect(rule.fromMagnetic).toBe("compass to map: add 9°");
  expect(rule.toMagnetic).toBe("map to compass: subtract 9°");
  expect(plain(rule.reason)).toBe("magnetic north lies 9° E of grid north");
});

// Source: TC 3-25.26, para 6-13: a westerly angle the other way round.
test("3.5° west", () => {
  const rule = northRule(-3.5, "true", 1);
  expect(rule.fromMagnetic).toBe("compass to map: subtract 3.5°");
  expect(rule.toMagnetic).toBe("map to compass: add 3.5°");
});

test("an angle that rounds to nothing changes nothing", () => {
  const rule = northRule(-0.4, "grid");
  expect(rule.toMagnetic).toBe("map to compass: change nothing");
  expect(rule.reason).toBe("magnetic north and grid north agree");
});

// Worked by hand: declination, convergence, grid–magnetic angle, a magnetic bearing and the grid bearing it is.
test.each([
  [10, -1.5, 11.5, 100, 111.5],
  [-4, 0.75, -4.75, 350, 345.25],
  [18, 2, 16, 355, 11],
  [-15.5, -2, -13.5, 3, 349.5],
  [0, 1.2, -1.2, 0, 358.8],
])(
  "declination %d°, convergence %d°: the words lead to the right bearing",
  (declination, convergence, angle, magnetic, grid) => {
    const gm = gridMagneticAngle(declination, convergence);
    expect(gm).toBeCloseTo(angle, 9);
    const [, verb, size] = /: (add|subtract) ([\d.]+)°/.exec(northRule(gm, "grid", 2).fromMagnetic) ?? [];
    const followed = normalise360(verb === "add" ? magnetic + Number(size) : magnetic - Number(size));
    expect(followed).toBeCloseTo(grid, 9);
  },
);
