/** A small picture of a whole map, for its row in the map case. */
import type { MapEntry } from "../../electron/contract.ts";
import { frameAround, groundPicture } from "./ground-picture.ts";

export const PREVIEW_PX = { width: 176, height: 132 };
/** Around the map, pixels of the picture. */
const MARGIN = 6;

let queue: Promise<unknown> = Promise.resolve();
const drawn = new Map<string, Promise<string | null>>();

/**
 * Address of the picture; null when none can be drawn. One is drawn at a time and kept as long as the file and the theme
 * are the same.
 */
export function previewOf(entry: MapEntry, theme: string): Promise<string | null> {
  const key = `${entry.id} ${entry.tag} ${theme}`;
  let picture = drawn.get(key);
  if (!picture) {
    picture = queue
      .then(() =>
        groundPicture(entry, ({ bounds }) => frameAround(bounds, { ...PREVIEW_PX, margin: MARGIN })),
      )
      .catch(() => null);
    queue = picture;
    drawn.set(key, picture);
  }
  return picture;
}
