/** What compresses tiles: a host lends what it has; without one, plain JavaScript does it. */
import { gzipSync, zlibSync } from "fflate";

export interface Codecs {
  /** Equal bytes give equal bytes: no clock in the header. */
  gzip(bytes: Uint8Array): Uint8Array;
  /** A zlib stream (RFC 1950), as PNG wants it. */
  zlib(bytes: Uint8Array): Uint8Array;
}

/** Of fflate: twice as fast as its level 6 on terrain, for files a tenth larger. */
const PICTURE_LEVEL = 4;

export const plainCodecs: Codecs = {
  gzip: (bytes) => gzipSync(bytes, { mtime: 0 }),
  zlib: (bytes) => zlibSync(bytes, { level: PICTURE_LEVEL }),
};
