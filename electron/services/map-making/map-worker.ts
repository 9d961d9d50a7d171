/** One of the threads that make a map. */
import { parentPort } from "node:worker_threads";
import { Fault } from "../../../core/fault.ts";
import { type Kit, kitOf, runPiece } from "../../../core/mapmaking/pieces.ts";
import { heightFile } from "./height-file.ts";
import { fileReader } from "./scratch-file.ts";
import type { FromWorker, ToWorker } from "./map-crew.ts";
import { nodeCodecs } from "./node-codecs.ts";

let kit: Kit | null = null;

/** Arrays that may change hands instead of being copied. */
function buffersIn(value: unknown): ArrayBuffer[] {
  if (ArrayBuffer.isView(value)) {
    const { buffer } = value;
    return buffer instanceof ArrayBuffer && buffer.byteLength === value.byteLength ? [buffer] : [];
  }
  if (value === null || typeof value !== "object") return [];
  return Object.values(value).flatMap(buffersIn);
}

const tell = (told: number): void => parentPort?.postMessage({ told } satisfies FromWorker, []);

async function take(message: ToWorker): Promise<void> {
  if (message.setup) {
    const { setup, fds } = message;
    kit = kitOf(setup, heightFile(setup.frame, fds.heights), fileReader(fds.features), nodeCodecs);
  } else {
    let answer: FromWorker;
    try {
      if (!kit) throw new Fault("internal", "A piece came before what it is a piece of.");
      answer = { result: await runPiece(kit, message.piece, tell) };
    } catch (thrown) {
      answer = { fault: Fault.from(thrown).toRecord() };
    }
    const hands = answer.result ? buffersIn(answer.result) : [];
    parentPort?.postMessage(answer, [...new Set(hands)]);
  }
}

parentPort?.on("message", (message: ToWorker) => void take(message));
