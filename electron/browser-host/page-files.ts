import { access, mkdir, readdir } from "node:fs/promises";
import { join } from "node:path";
import { Fault } from "../../core/fault.ts";
import { type FileChooser, mayBe, withEnding } from "../services/file-chooser.ts";
import { bareName } from "../services/file-name.ts";
import { fileFault } from "../services/file-faults.ts";

/** More would not be read in a list. */
const MAX_NAMES = 2000;

/**
 * Files chosen on the page: bare names inside one folder of the person's, nothing else. The page has its own dialog,
 * so a call without a choice is the page's mistake.
 */
export function pageFiles(folder: string): FileChooser {
  return {
    async toOpen(kind, choice) {
      const name = bareName(named(choice));
      if (kind === "map" && !/\.(pmtiles|mbtiles)$/i.test(name)) {
        throw new Fault(
          "bad-argument",
          "A map is a .pmtiles or .mbtiles archive; this is neither.",
          name,
          "Choose a .pmtiles or .mbtiles file.",
        );
      }
      return join(folder, name);
    },

    async toSave(kind, _suggestedName, choice) {
      const name = withEnding(bareName(named(choice)), kind);
      await mkdir(folder, { recursive: true }).catch((error: unknown) => {
        throw fileFault(error, folder, "could not be saved");
      });
      const path = join(folder, name);
      const replace = choice?.replace === true;
      // Said before a PDF is printed for nothing; the save itself checks again.
      if (
        !replace &&
        (await access(path).then(
          () => true,
          () => false,
        ))
      ) {
        throw new Fault(
          "exists",
          "There is a file of this name already.",
          name,
          "Choose another name, or replace it.",
        );
      }
      return { path, replace };
    },

    toOpenMany: async (_kind, names) => (names ?? []).map((name) => join(folder, bareName(name))),

    async dataNames(kind) {
      const names = await readdir(folder).catch(() => []);
      return names
        .filter((name) => mayBe(name, kind) && !name.startsWith("."))
        .sort((a, b) => a.localeCompare(b))
        .slice(0, MAX_NAMES);
    },

    async walkNames() {
      const names = await readdir(folder).catch(() => []);
      return names
        .filter((name) => /\.(geojson|json)$/i.test(name) && !name.startsWith("."))
        .sort((a, b) => a.localeCompare(b))
        .slice(0, MAX_NAMES);
    },
  };
}

function named(choice: { readonly name: string } | undefined): string {
  if (!choice) throw new Fault("bad-argument", "This host needs the name of the file.", "choice");
  return choice.name;
}
