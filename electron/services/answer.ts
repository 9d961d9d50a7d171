import { Fault } from "../../core/fault.ts";
import type { Envelope, HostApi } from "../contract.ts";
import { checkArguments, isHostMethod } from "./call-arguments.ts";

/**
 * One call as it came over a bridge, answered: the method and its arguments are checked, and whatever fails comes
 * back as a fault in the envelope. Never throws.
 */
export async function answer(api: HostApi, method: unknown, args: unknown): Promise<Envelope<unknown>> {
  try {
    if (!isHostMethod(method))
      throw new Fault("not-allowed", "There is no such call.", String(method).slice(0, 80));
    const call = api[method] as (...args: unknown[]) => Promise<unknown>;
    return { ok: true, value: await call(...checkArguments(method, args)) };
  } catch (error) {
    return { ok: false, fault: Fault.from(error).toRecord() };
  }
}
