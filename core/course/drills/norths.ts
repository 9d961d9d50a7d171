/** Questions about bearings alone: from one north to another, and the way back. */
import { gridMagneticAngle, northRule } from "../../geodesy/north-rule.ts";
import { normalise360 } from "../../units/angle.ts";
import { formatBearing, formatDay, formatEastWest } from "../../units/format.ts";
import { figureAnswer } from "./drill.ts";
import type { Asker } from "./drill-ground.ts";

const three = (degrees: number): string => formatBearing(degrees, { threeFigures: true });

/** From the map to the compass or back, with the angle of this place and day rounded to whole degrees as a sheet states it. */
export const askNorths: Asker = async (ground) => {
  const { chance, wish, settings } = ground;
  const { declinationDeg, convergenceDeg } = ground.norths(wish.centre);
  if (declinationDeg === null) return null;
  const fromTrue = chance.next() < 0.3;
  const north = fromTrue ? "true" : "grid";
  const exact = fromTrue ? declinationDeg : gridMagneticAngle(declinationDeg, convergenceDeg);
  const angle = Math.round(exact) + 0;
  // Nothing to turn is nothing to learn.
  if (angle === 0) return null;
  const toCompass = chance.next() < 0.5;
  const { roundDeg } = ground.level;
  const given = Math.floor(chance.between(0, 360 / roundDeg)) * roundDeg;
  const value = normalise360(toCompass ? given - angle : given + angle);
  const rule = northRule(angle, north);
  const step = (toCompass ? rule.toMagnetic : rule.fromMagnetic).replace(/^.*?: /, "");
  const [from, to] = toCompass ? [north, "magnetic"] : ["magnetic", north];
  const named = fromTrue ? "declination" : "grid–magnetic angle";
  const sum = toCompass ? given - angle : given + angle;
  return {
    ask: `Here, on ${formatDay(settings.date)}, the ${named} is ${formatEastWest(angle, 0)}. ${toCompass ? "Measured on the map, a bearing is" : "Shot with the compass, a bearing is"} ${three(given)} ${from}. What is it ${to}?`,
    marks: [],
    joined: false,
    answer: figureAnswer(`${three(value)} ${to}`, value, 0.5, "Only this is right."),
    working: [
      `${rule.reason.charAt(0).toUpperCase()}${rule.reason.slice(1)}. From ${from} to ${to}: ${step}.`,
      `${given}° ${sum < given ? "−" : "+"} ${Math.abs(angle)}° = ${sum}°${sum === value ? "" : `, which is ${value}° round the circle`}.`,
    ],
  };
};

export const askBack: Asker = async ({ chance, level: { roundDeg } }) => {
  const given = Math.floor(chance.between(0, 360 / roundDeg)) * roundDeg;
  const value = normalise360(given + 180);
  return {
    ask: `You walk on a bearing of ${three(given)}. On which bearing do you come back?`,
    marks: [],
    joined: false,
    answer: figureAnswer(three(value), value, 0.5, "Only this is right."),
    working: [
      given < 180
        ? `${given}° is less than 180°: add 180°, ${given}° + 180° = ${value}°.`
        : `${given}° is 180° or more: take 180° away, ${given}° − 180° = ${value}°.`,
      "Both bearings are on the same north: nothing else is added.",
    ],
  };
};
