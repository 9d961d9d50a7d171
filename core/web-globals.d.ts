// The web-platform globals that Node, windows and workers all have, and nothing more:
// core may use these and no others, so that it runs alike everywhere.

declare class TextDecoder {
  constructor(label?: string, options?: { fatal?: boolean; ignoreBOM?: boolean });
  decode(input?: ArrayBufferView | ArrayBuffer, options?: { stream?: boolean }): string;
}

declare class TextEncoder {
  encode(input?: string): Uint8Array;
}

interface AbortSignal {
  readonly aborted: boolean;
  readonly reason: unknown;
  throwIfAborted(): void;
}

declare const performance: { now(): number };

declare function setTimeout(run: () => void, ms: number): unknown;
