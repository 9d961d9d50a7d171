/** What is written in a blank, as a figure; or the reason why it is none. Pure. */
import { Fault } from "../../core/fault.ts";
import { parseNumber } from "../../core/units/parse-number.ts";
import { checkClock } from "../../core/walk/walk-rules.ts";
import { settingsWords } from "../words/settings-words.ts";

const { faults } = settingsWords;

/** @param such a number to show how it is written. @throws Fault "bad-argument" */
export function readNumber(text: string, such: string): number {
  if (text.trim() === "") throw new Fault("bad-argument", faults.empty, null, faults.writeNumber(such));
  const value = parseNumber(text);
  if (value === null)
    throw new Fault("bad-argument", faults.noNumber(text.trim()), null, faults.writeNumber(such));
  return value;
}

/** A time of day as HH:MM, from "8:30", "08.30" or "0830"; null for an empty blank. @throws Fault "bad-argument" */
export function readClock(text: string): string | null {
  const typed = text.trim();
  if (typed === "") return null;
  const form = /^(\d{1,2})[:.h ]?(\d{2})$/.exec(typed);
  return checkClock(form ? `${(form[1] as string).padStart(2, "0")}:${form[2] as string}` : typed);
}

/** Seconds of a timed trial, from "1:25", "85 s", "85" or "2 min"; null for an empty blank. @throws Fault "bad-argument" */
export function readTook(text: string): number | null {
  const typed = text.trim().replace(/(\d),(\d)/g, "$1.$2");
  if (typed === "") return null;
  const minutes = /^(\d+):([0-5]\d(?:\.\d+)?)(?: ?min)?$/.exec(typed);
  if (minutes) return Number(minutes[1]) * 60 + Number(minutes[2]);
  const plain = /^(\d+(?:\.\d+)?) ?(s|sec|min)?$/i.exec(typed);
  if (!plain) throw new Fault("bad-argument", faults.noTime(text.trim()), null, faults.writeTime);
  return Number(plain[1]) * (plain[2]?.toLowerCase() === "min" ? 60 : 1);
}
