/** What Node has for reading maps beyond what core brings: Brotli, and WebP pictures. */
import { brotliDecompressSync } from "node:zlib";
import type { GroundDecoders } from "../../core/terrain/height-pictures.ts";

export const GROUND_DECODERS: GroundDecoders = {
  unbrotli: (bytes, mostBytes) => brotliDecompressSync(bytes, { maxOutputLength: mostBytes }),
  async webp(bytes) {
    // Seldom needed, and its WebAssembly takes a moment to start.
    const { decode } = await import("@cwasm/webp");
    const { width, height, data } = decode(bytes);
    return { width, height, channels: 4, data };
  },
};
