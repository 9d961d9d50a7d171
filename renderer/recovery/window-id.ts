/** What the host knows this window by: new each time it is loaded. */
import { host } from "../host/host.ts";

export const windowId = crypto.randomUUID();

const KEY = "legwright-window";

/**
 * Says goodbye for the page that was here before, if it could not: then what it left unsaved is found at once. A
 * copied tab brings the same note along while the first lives, which a lock of the browser tells.
 */
export async function sayGoodbyeForLast(): Promise<void> {
  let last: string | null = null;
  try {
    last = sessionStorage.getItem(KEY);
    sessionStorage.setItem(KEY, windowId);
  } catch {
    // Without a store the silence of the last page is waited for.
  }
  const locks: LockManager | undefined = navigator.locks;
  void locks?.request(windowId, () => new Promise(() => {}));
  if (last === null || !locks) return;
  const free = await locks.request(last, { ifAvailable: true }, async (lock) => lock !== null);
  if (free) await host.leave(last);
}
