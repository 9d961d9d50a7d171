/** Lets MapLibre draw the pictures of a scanned sheet, each checked before anything unpacks it, in the theme's colours. */
import { addProtocol } from "maplibre-gl";
import type { Archive } from "../../core/map/archive.ts";
import { isTileSize, pictureSize } from "../../core/map/pictures.ts";
import { Fault } from "../../core/fault.ts";
import { say, sayFault } from "../app/notices.ts";
import type { ThemeName } from "../theme/theme.ts";
import { sheetWords } from "../words/sheet-words.ts";
import { tintPixels } from "./sheet-tint.ts";

interface Served {
  readonly archive: Archive;
  readonly title: string;
  readonly tileSize: number;
  /** What was said of it: one sentence for a fault, however many pictures have it. */
  readonly said: Set<string>;
}

let served: (Served & { readonly key: string }) | null = null;
let lastKey = 0;

/** Serves one sheet in place of the one before. @returns tile addresses for a style's source, in a theme's colours */
export function serveSheet(sheet: Omit<Served, "said">): (tint: ThemeName) => string {
  const key = `sheet-${++lastKey}`;
  served = { ...sheet, key, said: new Set() };
  return (tint) => `sheet://${key}/${tint}/{z}/{x}/{y}`;
}

const NOTHING = { data: new ArrayBuffer(0) };

addProtocol("sheet", async ({ url }) => {
  const [, key, tint, z, x, y] =
    /^sheet:\/\/([^/]+)\/(light|dark|night)\/(\d+)\/(\d+)\/(\d+)$/.exec(url) ?? [];
  const sheet = served;
  if (!sheet || sheet.key !== key) return NOTHING;
  try {
    const bytes = await sheet.archive.readTile(Number(z), Number(x), Number(y));
    if (!bytes) return NOTHING;
    const size = pictureSize(bytes);
    if (!size || !isTileSize(size)) throw new Fault("bad-tile", "No picture.");
    // The picture still covers its tile, however many pixels it has.
    if (size.width !== sheet.tileSize) once(sheet, "mixed", () => say(sheetWords.mixed(sheet.title)));
    return { data: await paint(bytes, tint as ThemeName) };
  } catch (thrown) {
    const fault = Fault.from(thrown);
    const isDamage = !(thrown instanceof Fault) || fault.code === "bad-tile";
    once(sheet, isDamage ? "damaged" : fault.code, () =>
      isDamage ? say(sheetWords.damaged(sheet.title)) : sayFault(fault),
    );
    return NOTHING;
  }
});

function once({ said }: Served, what: string, tell: () => void): void {
  if (said.has(what)) return;
  said.add(what);
  tell();
}

async function paint(bytes: Uint8Array, tint: ThemeName): Promise<ImageBitmap> {
  const picture = await createImageBitmap(new Blob([new Uint8Array(bytes)]));
  if (tint === "light") return picture;
  const { width, height } = picture;
  const pen = new OffscreenCanvas(width, height).getContext("2d");
  if (!pen) throw new Fault("bad-tile", "No canvas.");
  pen.drawImage(picture, 0, 0);
  picture.close();
  const pixels = pen.getImageData(0, 0, width, height);
  tintPixels(pixels.data, tint);
  return createImageBitmap(pixels);
}
