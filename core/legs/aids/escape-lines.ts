/**
 * What an escape bearing may end on and what must not lie on the way, as segments in the frame of a leg.
 *
 * Big lines: roads (not private drives), rivers and canals, tracks and other paths for vehicles or horses or 2 m wide.
 * Railways are left out: they are sure to be noticed, but nobody should be led to walk on one in the dark. So are power
 * lines, walls and shores, which need lead nowhere. Common practice, no source.
 *
 * In the way: cliffs, and the shores of open water; a river's own surface is the river. Cliffs drawn as areas count by
 * their outline, open water without a shore line of its own too.
 */
import type { LineFeature } from "../../map/features.ts";
import type { Kind } from "../../map/kinds.ts";
import { type FramedArea, outlineOfArea } from "./framed-area.ts";
import type { FramedLine } from "./framed-line.ts";
import { isRiverWater, isSmallRoad, isWidePath } from "./hazards-kinds.ts";

/** Lines and areas an escape bearing asks the map for. */
export const ESCAPE_LINE_KINDS: ReadonlySet<Kind> = new Set<Kind>([
  "road",
  "river",
  "path",
  "stream",
  "shore",
  "cliff",
  "rail",
  "wall",
  "fence",
]);
export const ESCAPE_AREA_KINDS: ReadonlySet<Kind> = new Set<Kind>(["water", "wetland", "cliff"]);

/** Whether an escape may end on a line. */
export function isEscapeLine({ kind, attributes }: LineFeature): boolean {
  if (kind === "road") return !isSmallRoad(attributes);
  if (kind === "path") return isWidePath(attributes);
  return kind === "river" || (kind === "shore" && isRiverWater(attributes));
}

const isInTheWay = ({ kind, attributes }: LineFeature): boolean =>
  kind === "cliff" || (kind === "shore" && !isRiverWater(attributes));

/** Something made of segments: a line, or the rings of an area. */
export interface Source {
  readonly kind: Kind;
  readonly name: string | null;
}

/** Segments s, t, s, t in one array, and what each belongs to. */
export interface Segments {
  readonly at: Float64Array;
  readonly of: Int32Array;
  readonly count: number;
  readonly sources: readonly Source[];
}

export interface EscapeLines {
  readonly ends: Segments;
  readonly inTheWay: Segments;
  /** Crossed on the way: not in the way, but worth knowing. */
  readonly between: Segments;
}

/**
 * @param reachM segments farther than this from every place of the leg are left out
 */
export function escapeLines(
  lengthM: number,
  lines: readonly FramedLine[],
  areas: readonly FramedArea[],
  reachM: number,
): EscapeLines {
  const pick = (wanted: (line: LineFeature) => boolean, rings: (area: FramedArea) => boolean): Segments =>
    segmentsOf(
      [
        ...lines
          .filter(({ line }) => wanted(line))
          .map(({ line, st, count }) => ({
            kind: line.kind,
            name: line.name,
            parts: [st.subarray(0, 2 * count)],
          })),
        ...areas.filter(rings).map((framed) => ({
          kind: framed.area.kind,
          name: framed.area.name,
          parts: outlineOfArea(framed),
        })),
      ],
      lengthM,
      reachM,
    );
  return {
    ends: pick(isEscapeLine, ({ area }) => area.kind === "water" && isRiverWater(area.attributes)),
    inTheWay: pick(
      isInTheWay,
      ({ area }) => area.kind === "cliff" || (area.kind === "water" && !isRiverWater(area.attributes)),
    ),
    between: pick(
      (line) =>
        !isEscapeLine(line) && !isInTheWay(line) && ["stream", "rail", "wall", "fence"].includes(line.kind),
      ({ area }) => area.kind === "wetland",
    ),
  };
}

function segmentsOf(
  parts: readonly (Source & { readonly parts: readonly Float64Array[] })[],
  lengthM: number,
  reachM: number,
): Segments {
  const at: number[] = [];
  const of: number[] = [];
  const sources: Source[] = [];
  for (const { kind, name, parts: runs } of parts) {
    const source = sources.length;
    let any = false;
    for (const st of runs)
      for (let i = 0; i + 3 < st.length; i += 2) {
        const [s0, t0, s1, t1] = [
          st[i] as number,
          st[i + 1] as number,
          st[i + 2] as number,
          st[i + 3] as number,
        ];
        if ((s0 < -reachM && s1 < -reachM) || (s0 > lengthM + reachM && s1 > lengthM + reachM)) continue;
        if ((t0 > reachM && t1 > reachM) || (t0 < -reachM && t1 < -reachM)) continue;
        at.push(s0, t0, s1, t1);
        of.push(source);
        any = true;
      }
    if (any) sources.push({ kind, name });
  }
  return { at: Float64Array.from(at), of: Int32Array.from(of), count: of.length, sources };
}
