/** What things on the ground are called in the window's sentences; the words themselves are those of the printed table. */
import { kindWord } from "../../core/legs/line-kinds.ts";
import type { Kind } from "../../core/map/kinds.ts";

/** What has no name of its own but that of the area it bounds. */
const EDGES: Partial<Record<Kind, string>> = { woodEdge: "edge of", shore: "shore of" };

/** Its own name, or what it is: "Sallow Water", "edge of Ashcroft Wood", "stream". */
export function thingName(kind: Kind, name: string | null): string {
  if (name === null) return kindWord(kind);
  return EDGES[kind] ? `${EDGES[kind]} ${name}` : name;
}

/** As in a sentence: "Sallow Water", "the edge of Ashcroft Wood", "the stream". */
export const theThing = (kind: Kind, name: string | null): string =>
  name === null || EDGES[kind] ? `the ${thingName(kind, name)}` : name;
