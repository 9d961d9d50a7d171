/** The window's typeface as data URLs, so that the printed document carries it along. */
import bold from "@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-700-normal.woff2?url";
import regular from "@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-400-normal.woff2?url";
import type { TableFont } from "../../core/legs/table/leg-table-html.ts";

let loaded: Promise<readonly TableFont[]> | null = null;

export function tableFonts(): Promise<readonly TableFont[]> {
  loaded ??= Promise.all([one(400, regular), one(700, bold)]);
  return loaded;
}

async function one(weight: TableFont["weight"], url: string): Promise<TableFont> {
  const bytes = new Uint8Array(await (await fetch(url)).arrayBuffer());
  let text = "";
  // In pieces: a call takes only so many arguments.
  for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
  return { weight, dataUrl: `data:font/woff2;base64,${btoa(text)}` };
}
