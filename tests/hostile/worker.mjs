// A thread does not take the loader of its process over: it registers its own.
import { register } from "tsx/esm/api";

register();
await import("./worker.ts");
