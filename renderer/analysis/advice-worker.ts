/**
 * A second worker for what takes long, so that figures never wait for it: odds, ways out. Started when first asked,
 * with a map of its own on the same archives.
 */
import type { OpenMap } from "../map-case/map-case.ts";
import { archivesOf } from "../map-case/map-case.ts";
import type { CallName, WorkerCalls } from "../worker/messages.ts";
import { workerClient, type WorkerClient } from "./worker-client.ts";

let client: WorkerClient | null = null;
let opened: { readonly id: unknown; readonly done: Promise<unknown> } | null = null;

/** Whose way figures are written in; null is the system's own. */
let figuresOf: string | null = null;

function started(): WorkerClient {
  if (!client) {
    client = workerClient(
      () =>
        new Worker(new URL("../worker/worker.ts", import.meta.url), {
          type: "module",
          name: "legwright-advice",
        }),
    );
    client.writeFiguresOf(figuresOf);
  }
  return client;
}

/** As the first worker's: told at once, or when the worker is begun. */
export function writeAdviceFiguresOf(locale: string | null): void {
  figuresOf = locale;
  client?.writeFiguresOf(locale);
}

/** Opens the map in the worker once; a map that cannot be opened is tried again with the next question. */
async function ready(map: OpenMap): Promise<void> {
  const worker = started();
  if (opened?.id !== map.info) {
    const { archive, terrain } = archivesOf(map.opened);
    const roles = map.info.rolesFrom === "user" ? map.info.roles : null;
    // By what is known of the map, which is another object once a person set other roles.
    opened = { id: map.info, done: worker.ask("openMap", [archive, terrain, roles]) };
  }
  const waiting = opened;
  try {
    await waiting.done;
  } catch (thrown) {
    if (opened === waiting) opened = null;
    throw thrown;
  }
}

/**
 * Asks on a map.
 * @throws Fault "cancelled" when the signal is aborted; whatever opening the map or the question fails with
 */
export async function askAdvice<N extends CallName>(
  map: OpenMap,
  call: N,
  args: Parameters<WorkerCalls[N]>,
  signal?: AbortSignal,
): Promise<ReturnType<WorkerCalls[N]>> {
  await ready(map);
  return started().ask(call, args, signal);
}
