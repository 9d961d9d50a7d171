/** What the window and the worker have for reading maps beyond what core brings: Brotli, and WebP pictures. */
import type { GroundDecoders, PictureDecoder } from "../../core/terrain/height-pictures.ts";

export const GROUND_DECODERS: GroundDecoders = { unbrotli: unbrotli(), webp: webp() };

/** The platform's own Brotli; undefined where it has none. The name is that of the Compression standard, or an older one. */
function unbrotli(): GroundDecoders["unbrotli"] {
  const name = ["brotli", "br"].find((format) => {
    try {
      return Boolean(new DecompressionStream(format as CompressionFormat));
    } catch {
      return false;
    }
  });
  if (name === undefined) return undefined;
  return async (bytes, mostBytes) => {
    const packed = new Blob([new Uint8Array(bytes)]).stream();
    const reader = packed.pipeThrough(new DecompressionStream(name as CompressionFormat)).getReader();
    const pieces: Uint8Array[] = [];
    let length = 0;
    for (;;) {
      const { done, value } = await reader.read();
      if (done) break;
      length += value.length;
      if (length > mostBytes) {
        await reader.cancel();
        throw new RangeError("Too big.");
      }
      pieces.push(value);
    }
    const plain = new Uint8Array(length);
    let at = 0;
    for (const piece of pieces) {
      plain.set(piece, at);
      at += piece.length;
    }
    return plain;
  };
}

function webp(): PictureDecoder | undefined {
  if (typeof createImageBitmap === "undefined" || typeof OffscreenCanvas === "undefined") return undefined;
  return async (bytes) => {
    const bitmap = await createImageBitmap(new Blob([new Uint8Array(bytes)], { type: "image/webp" }), {
      colorSpaceConversion: "none",
      premultiplyAlpha: "none",
    });
    const { width, height } = bitmap;
    const canvas = new OffscreenCanvas(width, height).getContext("2d", { willReadFrequently: true });
    if (!canvas) throw new Error("No canvas.");
    canvas.drawImage(bitmap, 0, 0);
    bitmap.close();
    const { data } = canvas.getImageData(0, 0, width, height);
    // A canvas multiplies colours by their opacity: what was half transparent is no longer what was put in, so no height.
    for (let alpha = 3; alpha < data.length; alpha += 4) if (data[alpha] !== 255) data[alpha] = 0;
    return { width, height, channels: 4, data };
  };
}
