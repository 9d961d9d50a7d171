/** For the build: what is part of the program, with the licence each package states of itself. */
// oxlint-disable-next-line no-restricted-imports -- it runs in Node and is no part of the window
import { readFileSync } from "node:fs";

interface PackageFile {
  readonly license?: string;
  readonly dependencies?: Readonly<Record<string, string>>;
}

const read = (path: string): PackageFile =>
  JSON.parse(readFileSync(new URL(path, import.meta.url), "utf8")) as PackageFile;

/** Where a package states its licence in its LICENSE file alone. */
const IN_LICENCE_FILE: Readonly<Record<string, string>> = { suncalc: "BSD-2-Clause" };

/** @throws Error for a package that states no licence: it has no place in the program */
export const packagesWithLicences = (): readonly (readonly [name: string, licence: string])[] =>
  Object.keys(read("../package.json").dependencies ?? {}).map((name) => {
    const { license } = read(`../node_modules/${name}/package.json`);
    const stated = license ?? IN_LICENCE_FILE[name];
    if (!stated) throw new Error(`The package ${name} states no licence.`);
    return [name, stated] as const;
  });
