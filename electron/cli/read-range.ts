import { Fault } from "../../core/fault.ts";
import { parseLength } from "../../core/units/length.ts";

/** "200m-400m", "1km-1.5km", in metres. @throws Fault "bad-argument" for what is none */
export function rangeOf(text: string): readonly [least: number, most: number] {
  const [least, most, more] = text.split(/\s*[-–]\s*/);
  if (least && most && more === undefined) return [parseLength(least), parseLength(most)];
  throw new Fault(
    "bad-argument",
    `“${text}” is not from a length to a length.`,
    null,
    "Write such as 200m-400m.",
  );
}
