/** GDAL's own tools, for comparing with them where they are installed. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { type ElevationFile, memoryFile } from "../../../../../core/mapmaking/elevation/elevation-model.ts";

const TOOLS = ["gdal_translate", "gdalwarp", "gdaltransform", "gdalsrsinfo"];
export const missingTools = TOOLS.filter((tool) => {
  try {
    execFileSync(tool, ["--version"], { stdio: "ignore" });
    return false;
  } catch (e) {
    return (e as NodeJS.ErrnoException).code === "ENOENT";
  }
});
/** For the name of a group of tests: says so when they are skipped. */
export const skipNote = missingTools.length > 0 ? `: SKIPPED, not installed: ${missingTools.join(", ")}` : "";

export const run = (tool: string, args: readonly string[], input?: string): string =>
  execFileSync(tool, args, { encoding: "utf8", stdio: "pipe", ...(input !== undefined && { input }) });

export function scratch(): { readonly path: (name: string) => string; readonly remove: () => void } {
  const folder = mkdtempSync(join(tmpdir(), "elevation-"));
  return {
    path: (name) => join(folder, name),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

export const fileAt = (path: string, prj: string | null = null): ElevationFile =>
  memoryFile(basename(path), Uint8Array.from(readFileSync(path)), prj);

/** A raster's values as GDAL reads them, row by row, 64-bit floats; nodata is left as it is. */
export function valuesOf(path: string): Float64Array {
  const { path: at, remove } = scratch();
  try {
    run("gdal_translate", ["-q", "-of", "ENVI", "-ot", "Float64", path, at("raw")]);
    return new Float64Array(Uint8Array.from(readFileSync(at("raw"))).buffer);
  } finally {
    remove();
  }
}

/** Largest difference, and how many samples only one of both has. */
export function compare(
  ours: ArrayLike<number>,
  theirs: ArrayLike<number>,
  noData: number,
): { readonly most: number; readonly unlike: number } {
  let [most, unlike] = [0, Math.abs(ours.length - theirs.length)];
  for (let i = 0; i < ours.length; i++) {
    const [a, b] = [ours[i]!, theirs[i]!];
    const isVoid = b === noData || Number.isNaN(b);
    if (Number.isNaN(a) !== isVoid) unlike++;
    else if (!isVoid) most = Math.max(most, Math.abs(a - b));
  }
  return { most, unlike };
}
