/** What the command line gives as `what=value`: who goes, and how far off an answer may be. */
import { Fault } from "../../core/fault.ts";
import { NO_PARTY, type PrintParty } from "../../core/sheet/sheet-job.ts";
import { type Tolerance, USUAL_TOLERANCE } from "../../core/sheet/tables/tolerance.ts";
import { parseLength } from "../../core/units/length.ts";

type Change<T> = (value: string) => Partial<T>;

/** @throws Fault "bad-argument" for what no route card tells */
export const partyOf = (given: readonly string[] = []): PrintParty =>
  pairs("--party", given, NO_PARTY, {
    names: (names) => ({ names }),
    phone: (phone) => ({ phone }),
    vehicle: (vehicle) => ({ vehicle }),
    kit: (kit) => ({ kit }),
    contact: (contact) => ({ contact }),
  });

/** @throws Fault "bad-argument" for what has no tolerance, or for one that cannot be */
export const toleranceOf = (given: readonly string[] = []): Tolerance =>
  pairs("--tolerance", given, USUAL_TOLERANCE, {
    bearing: (text) => ({ bearingDeg: degreesOf(text) }),
    distance: (text) =>
      /%\s*$/.test(text) ? { distanceShare: shareOf(text) } : { distanceM: metresOf(text, 10_000) },
    paces: (text) => ({ pacesShare: shareOf(text) }),
    height: (text) => ({ heightM: metresOf(text, 1000) }),
  });

function pairs<T extends object>(
  flag: string,
  given: readonly string[],
  usual: T,
  known: Readonly<Record<string, Change<T>>>,
): T {
  return given.reduce((before, pair) => {
    const at = pair.indexOf("=");
    const name = pair.slice(0, Math.max(at, 0)).trim();
    const change = Object.hasOwn(known, name) ? known[name] : undefined;
    if (!change)
      throw new Fault(
        "bad-argument",
        `“${pair}” is not understood.`,
        flag,
        `Give one of ${Object.keys(known)
          .map((one) => `${one}=…`)
          .join(", ")}.`,
      );
    return { ...before, ...change(pair.slice(at + 1)) };
  }, usual);
}

const notOff = (text: string, remedy: string): Fault =>
  new Fault("bad-argument", `“${text}” does not say how far off an answer may be.`, "--tolerance", remedy);

function degreesOf(text: string): number {
  const deg = Number(text.replace(/(°|deg)\s*$/, ""));
  if (text.trim() !== "" && deg >= 0 && deg <= 90) return deg;
  throw notOff(text, "Give degrees from 0 to 90, such as 3.");
}

function shareOf(text: string): number {
  const percent = Number(text.replace(/%\s*$/, ""));
  if (/\d/.test(text) && percent >= 0 && percent <= 100) return percent / 100;
  throw notOff(text, "Give per cent from 0 to 100, such as 10%.");
}

function metresOf(text: string, most: number): number {
  const metres = parseLength(text);
  if (metres >= 0 && metres <= most) return metres;
  throw notOff(text, `Give a length up to ${most} m, such as 25m.`);
}
