import { effect } from "@preact/signals";

/** Resolves when a condition on signals holds, at once when it does already. */
export function once(holds: () => boolean): Promise<void> {
  return new Promise((resolve) => {
    const stop = effect(() => {
      if (!holds()) return;
      resolve();
      // Not before there is something to stop: the first run is within the call above.
      queueMicrotask(() => stop());
    });
  });
}
