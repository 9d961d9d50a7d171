/** Long searches let their host breathe between legs, so that a wish to stop is heard. */
import { Fault } from "../fault.ts";

/** Longest stretch without a breath, milliseconds. */
const BREATH_MS = 40;

/** @returns to be awaited before each piece of work; throws Fault "cancelled" once the signal says so */
export function breathing(signal?: AbortSignal): () => Promise<void> {
  let last = performance.now();
  return async () => {
    if (performance.now() - last >= BREATH_MS) {
      await new Promise<void>((resume) => void setTimeout(resume, 0));
      last = performance.now();
    }
    if (signal?.aborted) throw new Fault("cancelled", "Setting the course was cancelled.");
  };
}
