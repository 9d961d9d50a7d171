import { runCommand } from "../app/commands.ts";
import { mapWords } from "../words/map-words.ts";
import { mapEntries } from "./map-case.ts";

/** While there is nothing but the demo map: what it is, and where a map of one's own comes from. */
export function FirstMap() {
  if (mapEntries.value.length === 0 || !mapEntries.value.every(({ invented }) => invented)) return null;
  return (
    <>
      <p>{mapWords.firstMap}</p>
      <button type="button" class="button" data-test="first-map" onClick={() => runCommand("maps")}>
        {mapWords.firstWays}
      </button>
    </>
  );
}
