import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

export interface App {
  /** The folder with package.json, sample-maps/ and dist/. */
  readonly folder: string;
  readonly version: string;
}

/**
 * Where the app lies. Found by walking up, because the same code runs from its source folder and from a bundle that
 * lies elsewhere.
 */
export function findApp(from: string = import.meta.url): App {
  for (let folder = dirname(fileURLToPath(from)); ; folder = dirname(folder)) {
    try {
      const { name, version } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8")) as Record<
        string,
        unknown
      >;
      if (name === "legwright") return { folder, version: String(version) };
    } catch {
      // No package.json here, or another's.
    }
    if (dirname(folder) === folder) throw new Error("package.json of legwright not found above its own code");
  }
}
