import type { Frame, HeightSource } from "../../../core/mapmaking/height-source.ts";
import { readFully } from "./scratch-file.ts";

/** Heights in a file, 32-bit floats row after row, of which any thread reads the windows it works on. */
export function heightFile(frame: Frame, fd: number): HeightSource {
  return {
    ...frame,
    window(box, room) {
      const count = box.columns * box.rows;
      const heights = room && room.length >= count ? room.subarray(0, count) : new Float32Array(count);
      const bytes = new Uint8Array(heights.buffer, heights.byteOffset, heights.byteLength);
      const at = (row: number): number => ((box.row + row) * frame.columns + box.column) * 4;
      if (box.columns === frame.columns) readFully(fd, bytes, at(0));
      else
        for (let row = 0; row < box.rows; row++)
          readFully(fd, bytes.subarray(row * box.columns * 4, (row + 1) * box.columns * 4), at(row));
      return { ...box, heights };
    },
  };
}
