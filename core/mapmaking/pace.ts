/** Long work on the host's only thread: lets it breathe, says how far along it is, and stops when told to. */
import { Fault } from "../fault.ts";

export interface Progress {
  /** What is being done, in words: "Drawing contours". */
  readonly stage: string;
  /** Share of the whole work done, 0–1, never going back. */
  readonly done: number;
  /** Seconds that are left if work goes on as it did; null while too little is done to say. */
  readonly leftS: number | null;
}

export interface MakeOptions {
  readonly progress?: (progress: Progress) => void;
  readonly signal?: AbortSignal;
}

export interface Pace {
  /** Begins a stage that takes `share` of the whole work. */
  stage(name: string, share: number): void;
  /**
   * Called often from within a stage.
   * @param done share of the stage done, 0–1
   * @throws Fault "cancelled" when the signal says so
   */
  step(done: number): Promise<void>;
  /** The stage's stretch from one share to another, for a step that counts its own work from 0 to 1. */
  part(from: number, to: number): Pace;
}

/** Longest stretch without a breath, milliseconds: under a frame and a half of a 60 Hz screen. */
const BREATH_MS = 24;

/** From here on what is left is worth telling. */
const SURE_DONE = 0.05;

export function pace({ progress, signal }: MakeOptions): Pace {
  const started = performance.now();
  let before = 0;
  let share = 0;
  let name = "";
  let last = performance.now();
  let most = 0;
  const tell = (stage: string, at: number): void => {
    const done = (most = Math.min(1, Math.max(most, at)));
    const elapsedS = (performance.now() - started) / 1000;
    const leftS = done >= 1 ? 0 : done < SURE_DONE ? null : (elapsedS * (1 - done)) / done;
    progress?.({ stage, done, leftS });
  };
  const going: Pace = {
    stage(stage, takes) {
      before += share;
      share = takes;
      name = stage;
      tell(stage, before);
    },
    async step(done) {
      if (performance.now() - last >= BREATH_MS) {
        tell(name, before + share * Math.min(1, done));
        await new Promise<void>((resume) => void setTimeout(resume, 0));
        last = performance.now();
      }
      if (signal?.aborted) throw new Fault("cancelled", "Making the map was cancelled.");
    },
    part: (from, to) => ({ ...going, step: (done) => going.step(from + (to - from) * Math.min(1, done)) }),
  };
  return going;
}
