/** Long work on the host's only thread: lets it breathe, says how far along it is, and stops when told to. */
import { Fault } from "../fault.ts";

export interface Progress {
  /** What is being done, in words: "Drawing contours". */
  readonly stage: string;
  /** Share of the whole work done, 0–1, never going back. */
  readonly done: number;
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

export function pace({ progress, signal }: MakeOptions): Pace {
  let before = 0;
  let share = 0;
  let name = "";
  let last = performance.now();
  const going: Pace = {
    stage(stage, takes) {
      before += share;
      share = takes;
      name = stage;
      progress?.({ stage, done: Math.min(1, before) });
    },
    async step(done) {
      if (performance.now() - last >= BREATH_MS) {
        progress?.({ stage: name, done: Math.min(1, before + share * Math.min(1, done)) });
        await new Promise<void>((resume) => void setTimeout(resume, 0));
        last = performance.now();
      }
      if (signal?.aborted) throw new Fault("cancelled", "Making the map was cancelled.");
    },
    part: (from, to) => ({ ...going, step: (done) => going.step(from + (to - from) * Math.min(1, done)) }),
  };
  return going;
}
