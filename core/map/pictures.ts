/**
 * Pictures in an archive: which kind, how large, told from their first bytes before anything unpacks them.
 * Source: PNG specification (third edition) §11.2.1; ISO/IEC 10918-1 (JPEG) annex B.2.2; RFC 9649 (WebP) §2.
 */

export const PICTURE_TYPES = ["png", "jpeg", "webp"] as const;
export type PictureType = (typeof PICTURE_TYPES)[number];

export interface PictureSize {
  readonly width: number;
  readonly height: number;
}

/** Tiles are 256 or 512 pixels wide, or 1024 on fine screens; a larger one would fill the memory. No source. */
const MOST_PIXELS = 4096;

/** Whether a picture can be a tile, which covers a square. */
export const isTileSize = ({ width, height }: PictureSize): boolean =>
  width === height && width >= 1 && width <= MOST_PIXELS;

/** Null for what is no picture of these kinds. */
export function pictureType(bytes: Uint8Array): PictureType | null {
  const starts = (at: number, ...signature: readonly number[]): boolean =>
    signature.every((byte, i) => bytes[at + i] === byte);
  if (starts(0, 0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return "png";
  if (starts(0, 0xff, 0xd8, 0xff)) return "jpeg";
  if (starts(0, 0x52, 0x49, 0x46, 0x46) && starts(8, 0x57, 0x45, 0x42, 0x50)) return "webp";
  return null;
}

/** Pixels; null when the bytes are no picture or end before they say. */
export function pictureSize(bytes: Uint8Array): PictureSize | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  try {
    switch (pictureType(bytes)) {
      case "png":
        return { width: view.getUint32(16), height: view.getUint32(20) };
      case "jpeg":
        return jpegSize(view);
      case "webp":
        return webpSize(view);
      case null:
        return null;
    }
  } catch (thrown) {
    // Read beyond the end.
    if (thrown instanceof RangeError) return null;
    throw thrown;
  }
}

function jpegSize(view: DataView): PictureSize | null {
  for (let at = 2; view.getUint8(at) === 0xff;) {
    const marker = view.getUint8(at + 1);
    // Start of frame, but for the markers in between that define tables.
    if (marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc)
      return { height: view.getUint16(at + 5), width: view.getUint16(at + 7) };
    // Fill bytes may stand before a marker.
    at += marker === 0xff ? 1 : 2 + view.getUint16(at + 2);
  }
  return null;
}

function webpSize(view: DataView): PictureSize | null {
  const u24 = (at: number): number => view.getUint16(at, true) + view.getUint8(at + 2) * 65_536;
  switch (String.fromCharCode(...Array.from({ length: 4 }, (_, i) => view.getUint8(12 + i)))) {
    case "VP8X":
      return { width: u24(24) + 1, height: u24(27) + 1 };
    case "VP8L": {
      const bits = view.getUint32(21, true);
      return { width: (bits & 0x3fff) + 1, height: ((bits >>> 14) & 0x3fff) + 1 };
    }
    case "VP8 ":
      return { width: view.getUint16(26, true) & 0x3fff, height: view.getUint16(28, true) & 0x3fff };
    default:
      return null;
  }
}
