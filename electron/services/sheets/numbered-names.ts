/** Names of files that hold one page each: the one given for a single page, else with the page's number before the ending. */
export function numberedNames(path: string, count: number): string[] {
  if (count <= 1) return [path];
  const dot = path.search(/\.[^./\\]+$/);
  const [stem, ending] = dot < 0 ? [path, ""] : [path.slice(0, dot), path.slice(dot)];
  const figures = String(count).length;
  return Array.from({ length: count }, (_, i) => `${stem}-${String(i + 1).padStart(figures, "0")}${ending}`);
}
