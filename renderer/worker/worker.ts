/** Entry of the worker: core, off the main thread. */
import { dispatcher } from "./dispatch.ts";
import { groundWork } from "./ground-work.ts";

const receive = dispatcher(groundWork(), (message) => postMessage(message));

// Only the page that started a dedicated worker can post to it.
addEventListener("message", (event: MessageEvent) => receive(event.data));
