/** The worker's part of bringing in a file: it holds what was read, and gives a look at it and walks out of it. */
import { type Exchange, READ_LIMITS } from "../../core/exchange/exchange.ts";
import { readExchange, tableIn } from "../../core/exchange/read-exchange.ts";
import { thinLine } from "../../core/exchange/thin-line.ts";
import { walkFrom } from "../../core/exchange/walk-from.ts";
import { Fault } from "../../core/fault.ts";
import type { LonLat } from "../../core/units/position.ts";
import type { ForeignChoice, ForeignLook, ForeignOptions, ForeignWalk } from "./foreign-messages.ts";

/** More positions than this no small picture shows. */
const MOST_DRAWN = 4_000;
/** Left away between two that are drawn, as a share of the picture's width. */
const DRAWN_SHARE = 1 / 600;

export function foreignWork() {
  let held: Exchange | null = null;

  return {
    async readForeign(
      _signal: AbortSignal,
      bytes: Uint8Array,
      name: string,
      wish: ForeignOptions,
    ): Promise<ForeignLook> {
      const options = { ...READ_LIMITS, ...wish };
      held = null;
      try {
        held = await readExchange(bytes, name, options);
      } catch (thrown) {
        return { format: null, candidates: [], table: tableOf(bytes, name, wish), fault: faultOf(thrown) };
      }
      return {
        format: held.format,
        table: held.table,
        fault: null,
        candidates: held.candidates.map(
          ({ kind, name: own, lengthM, bounds, times, heights, positions }) => ({
            kind,
            name: own,
            lengthM,
            bounds,
            times,
            heights,
            positions: positions.length,
          }),
        ),
      };
    },

    async foreignWalk(_signal: AbortSignal, choice: ForeignChoice): Promise<ForeignWalk> {
      const candidate = held?.candidates[choice.pick];
      if (!held || !candidate) throw new Fault("bad-argument", "Nothing was read.");
      const line = candidate.kind === "points" ? new Float64Array() : drawn(candidate.positions);
      const of = candidate.positions.length;
      try {
        const { walk, report, thinned } = walkFrom(held, choice);
        return { walk, report, of, largestM: thinned.largestM, line, fault: null };
      } catch (thrown) {
        return { walk: null, report: held.report, of, largestM: 0, line, fault: faultOf(thrown) };
      }
    },
  };
}

/** A fault of the file is an answer; anything else is a mistake of ours. */
function faultOf(thrown: unknown): ForeignLook["fault"] {
  const fault = Fault.from(thrown);
  if (fault.code === "internal") throw thrown;
  return fault.toRecord();
}

/** What could not be read may still be a table to be put right. */
function tableOf(bytes: Uint8Array, name: string, wish: ForeignOptions): ForeignLook["table"] {
  // Columns that were chosen and give no position must not hide the table they are chosen in.
  const table = wish.table && { ...wish.table, columns: null };
  try {
    const look = tableIn(bytes, name, { ...READ_LIMITS, ...wish, table });
    return look && wish.table?.columns ? { ...look, columns: wish.table.columns } : look;
  } catch (thrown) {
    faultOf(thrown);
    return null;
  }
}

/** The line with as many positions as can be told apart. */
function drawn(positions: readonly LonLat[]): Float64Array {
  const step = Math.max(1, Math.ceil(positions.length / (MOST_DRAWN * 10)));
  const some = positions.filter((_, i) => i % step === 0 || i === positions.length - 1);
  let kept = some;
  if (some.length > MOST_DRAWN) {
    const lats = some.map(([, lat]) => lat);
    const tallM = (lats.reduce((a, b) => Math.max(a, b)) - lats.reduce((a, b) => Math.min(a, b))) * 111_000;
    for (let toleranceM = Math.max(1, tallM * DRAWN_SHARE); kept.length > MOST_DRAWN; toleranceM *= 3)
      kept = thinLine(some, Math.min(100_000, toleranceM)).kept.map((i) => some[i] as LonLat);
  }
  return Float64Array.from(kept.flat());
}
