/**
 * Dangers within a leg's drift cone, from the start to some way beyond the target: not only on the line. A walker who
 * drifts as far as the cone allows is still warned of what is met there.
 *
 * Lines and areas are cut to the cone exactly; steep ground is looked at on the terrain's own spacing (steep-ground.ts).
 * Runs of one line within 50 m of one another along the leg are one danger; a lake is one however often it is met.
 */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { Kind, Role } from "../../map/kinds.ts";
import type { ElevationModel } from "../../terrain/elevation.ts";
import type { LengthUnit } from "../../units/format.ts";
import type { LegSettings } from "../leg-settings.ts";
import { lengthInNote } from "../leg-words.ts";
import { type FramedArea, joinAreas, outlineOfArea } from "./framed-area.ts";
import { type FramedLine, joinLines } from "./framed-line.ts";
import { HAZARD_AREA_KINDS, HAZARD_ROLES, hazardOfLine, widthM } from "./hazards-kinds.ts";
import { trapBelow, TRAP_REACH_M, type TerrainTrap, type TrapLine } from "./hazards-traps.ts";
import {
  joinRuns,
  mergeOverlays,
  type Overlay,
  overlayArea,
  overlayLine,
  type Zone,
  zoneOf,
} from "./hazards-zone.ts";
import { outlineOf, type SteepFinding, steepGround } from "./steep-ground.ts";

/** Stands beside hazards wherever they are shown or printed. */
export const HAZARD_CAUTION =
  "These dangers were found by computer from map data: there can be others, and the map can be wrong or old. Look at the ground, keep away from edges, and turn back in doubt.";

export interface Hazard {
  readonly kind: Extract<
    Kind,
    "cliff" | "steep" | "water" | "river" | "stream" | "wetland" | "rail" | "road" | "restricted"
  >;
  readonly name: string | null;
  /** Along the leg, metres; more than its length beyond the target. */
  readonly fromM: number;
  readonly toM: number;
  readonly side: "on" | "left" | "right";
  /**
   * Steep ground: its steepest, degrees. Cliff: the most the ground drops across it, metres, by the terrain model, which
   * rounds cliffs off. River or stream: metres across where the map says it. Rail, road, restricted: how often the leg
   * crosses its line. Null where not known, and for no crossing.
   */
  readonly value: number | null;
  /** Nearest distance from the line of the leg, metres; 0 when on it. */
  readonly offsetM: number;
  /** Steep ground: its class, from and below degrees, and share of the cone's width. Else null. */
  readonly steep: {
    readonly fromDeg: number;
    readonly belowDeg: number | null;
    readonly share: number;
  } | null;
  /** Cliffs and steep ground: what a fall or slide would end in. */
  readonly trap: TerrainTrap | null;
  /** As drawn on the map: longitude, latitude …; steep ground as closed outlines. */
  readonly stretches: readonly Float64Array[];
}

export interface HazardGround {
  readonly lines: readonly FramedLine[];
  readonly areas: readonly FramedArea[];
  readonly elevation: ElevationModel | null;
  /** The roles the map has. */
  readonly roles: Partial<Record<Role, unknown>>;
}

export interface HazardSettings extends Pick<LegSettings, "driftDeg"> {
  /** How far beyond the target dangers are looked for, metres: to the backstop, or a chosen length. */
  readonly hazardBeyondM: number;
  /** Ground at or above each of these is a class of steep ground. */
  readonly steepDeg: readonly number[];
  readonly lengthUnit?: LengthUnit;
}

export interface HazardFinding {
  /** In the order one comes to them. */
  readonly hazards: readonly Hazard[];
  /** What could not be known. */
  readonly notes: readonly string[];
}

const GAP_M = 50;

/** The dangers of a leg; none and no notes for a leg without length. */
export function hazardsOf(frame: LegFrame, ground: HazardGround, settings: HazardSettings): HazardFinding {
  if (frame.bearing === null) return { hazards: [], notes: [] };
  const zone = zoneOf(frame, settings.driftDeg, settings.hazardBeyondM);
  const { elevation } = ground;
  const steep = elevation ? steepGround(frame, elevation, zone, settings.steepDeg) : null;
  const traps = steep ? trapLines(ground, zone) : [];
  const trapOf: TrapFinder = ({ runs }) =>
    steep ? trapBelow(steep.field, Float64Array.from(runs.flatMap((st) => [...st])), traps, true) : null;
  const areas = areaHazards(frame, ground, zone, trapOf);
  const hazards = [
    ...areas,
    ...lineHazards(frame, ground, zone, areas, trapOf),
    ...(steep ? steepHazards(frame, steep, zone, traps) : []),
  ].toSorted((a, b) => a.fromM - b.fromM || a.toM - b.toM);
  return { hazards, notes: notesOn(hazards, ground, steep, settings.lengthUnit ?? "metric") };
}

/** What lies below the foot of a cliff. */
type TrapFinder = (cliff: Overlay) => TerrainTrap | null;

function areaHazards(
  frame: LegFrame,
  { areas, elevation }: HazardGround,
  zone: Zone,
  trapOf: TrapFinder,
): Hazard[] {
  const met = new Map<FramedArea, Overlay>();
  for (const area of areas) {
    if (!HAZARD_AREA_KINDS.has(area.area.kind)) continue;
    const overlay = overlayArea(area, zone, frame.lengthM);
    if (overlay) met.set(area, overlay);
  }
  return joinAreas([...met.keys()]).map((group) => {
    const overlay = mergeOverlays(group.map((area) => met.get(area) as Overlay));
    const { kind, name } = (group[0] as FramedArea).area;
    return hazard(frame, kind as Hazard["kind"], name, overlay, {
      value:
        kind === "cliff"
          ? dropM(frame, overlay, elevation)
          : kind === "restricted"
            ? overlay.crossings || null
            : null,
      trap: kind === "cliff" ? trapOf(overlay) : null,
    });
  });
}

function lineHazards(
  frame: LegFrame,
  { lines, elevation }: HazardGround,
  zone: Zone,
  areas: readonly Hazard[],
  trapOf: TrapFinder,
): Hazard[] {
  const met = new Map<FramedLine, Overlay[]>();
  for (const framed of lines) {
    if (hazardOfLine(framed.line) === null) continue;
    const runs = overlayLine(framed, zone, frame.lengthM);
    if (runs.length > 0) met.set(framed, runs);
  }
  return joinLines([...met.keys()]).flatMap((group) => {
    const { line } = group[0] as FramedLine;
    const kind = hazardOfLine(line) as Hazard["kind"];
    const runs = group.flatMap((framed) => met.get(framed) as Overlay[]);
    return joinRuns(runs, GAP_M).flatMap((run) => {
      if (areas.some((area) => area.kind === kind && isEdgeOf(run, line.name, area))) return [];
      const value =
        kind === "cliff"
          ? dropM(frame, run, elevation)
          : kind === "river" || kind === "stream"
            ? widestM(group)
            : run.crossings || null;
      const trap = kind === "cliff" ? trapOf(run) : null;
      return [hazard(frame, kind, line.name, run, { value: kind === "water" ? null : value, trap })];
    });
  });
}

/** An area's edge comes as a line of its own: it is told with the area. */
const isEdgeOf = (run: Overlay, name: string | null, area: Hazard): boolean =>
  area.name === name &&
  run.fromM >= area.fromM - 2 &&
  run.toM <= area.toM + 2 &&
  run.offsetM >= area.offsetM - 2;

function steepHazards(
  frame: LegFrame,
  { stretches, field, stepM }: SteepFinding,
  zone: Zone,
  traps: readonly TrapLine[],
): Hazard[] {
  return stretches.map((stretch) => ({
    kind: "steep",
    name: null,
    fromM: stretch.fromM,
    toM: stretch.toM,
    side: stretch.side,
    value: stretch.steepestDeg,
    offsetM: stretch.offsetM,
    steep: { fromDeg: stretch.fromDeg, belowDeg: stretch.belowDeg, share: stretch.share },
    trap: trapBelow(field, stretch.places, traps, false),
    stretches: [onMap(frame, outlineOf(stretch, zone, stepM))],
  }));
}

function hazard(
  frame: LegFrame,
  kind: Hazard["kind"],
  name: string | null,
  { fromM, toM, side, offsetM, runs }: Overlay,
  more: Partial<Pick<Hazard, "value" | "trap">>,
): Hazard {
  return {
    kind,
    name,
    fromM,
    toM,
    side,
    value: null,
    offsetM,
    steep: null,
    trap: null,
    stretches: runs.map((run) => onMap(frame, run)),
    ...more,
  };
}

function onMap(frame: LegFrame, st: Float64Array): Float64Array {
  const out = new Float64Array(st.length);
  for (let i = 0; i < st.length; i += 2) {
    const [lon, lat] = frame.toLonLat(st[i] as number, st[i + 1] as number);
    out[i] = lon;
    out[i + 1] = lat;
  }
  return out;
}

function widestM(group: readonly FramedLine[]): number | null {
  const widths = group.map(({ line }) => widthM(line.attributes)).filter((width) => width !== null);
  return widths.length > 0 ? Math.max(...widths) : null;
}

/** Places looked at along a cliff. */
const MOST_LOOKS = 40;

/** The largest difference of height straight across a cliff, a sample and a half to each side and at least 10 m. */
function dropM(frame: LegFrame, { runs }: Overlay, elevation: ElevationModel | null): number | null {
  if (!elevation) return null;
  const spacing = elevation.spacingM(frame.from[1]);
  const aside = Math.max(10, 1.5 * spacing);
  let most = NaN;
  let looks = 0;
  for (const st of runs)
    for (let i = 0; i + 3 < st.length; i += 2) {
      const [s, t] = [st[i] as number, st[i + 1] as number];
      const [ds, dt] = [(st[i + 2] as number) - s, (st[i + 3] as number) - t];
      const length = Math.hypot(ds, dt);
      if (length === 0) continue;
      const parts = Math.max(1, Math.ceil(length / Math.max(20, spacing)));
      for (let k = 0; k < parts && looks < MOST_LOOKS; k++, looks++) {
        const f = (k + 0.5) / parts;
        const height = (way: number): number =>
          elevation.at(
            frame.toLonLat(
              s + f * ds - (way * aside * dt) / length,
              t + f * dt + (way * aside * ds) / length,
            ),
          );
        const drop = Math.abs(height(1) - height(-1));
        if (!(drop <= most)) most = Number.isNaN(drop) ? most : drop;
      }
    }
  return Number.isNaN(most) ? null : most;
}

function trapLines({ lines, areas }: HazardGround, zone: Zone): TrapLine[] {
  const room = TRAP_REACH_M;
  const far = zone.halfM + zone.spread * zone.toS + room;
  const isNear = ({ minS, maxS, minT, maxT }: FramedLine | FramedArea): boolean =>
    maxS >= -room && minS <= zone.toS + room && maxT >= -far && minT <= far;
  const found: TrapLine[] = [];
  for (const framed of lines) {
    const { kind, name } = framed.line;
    if (kind !== "stream" && kind !== "river" && kind !== "cliff" && kind !== "shore") continue;
    if (isNear(framed)) found.push({ kind: kind === "shore" ? "water" : kind, name, st: framed.st });
  }
  for (const framed of areas)
    if (framed.area.kind === "water" && isNear(framed))
      for (const st of outlineOfArea(framed)) found.push({ kind: "water", name: framed.area.name, st });
  return found;
}

function notesOn(
  hazards: readonly Hazard[],
  { roles, elevation }: HazardGround,
  steep: SteepFinding | null,
  unit: LengthUnit,
): string[] {
  const notes: string[] = [];
  const missing = HAZARD_ROLES.filter(([role]) => !roles[role]).map(([, words]) => words);
  if (missing.length > 0)
    notes.push(`This map does not show ${listed(missing)}: whether there are any here is not known from it.`);
  if (!elevation)
    notes.push("There is no terrain model here: steep ground, drops and terrain traps are not known.");
  else if (steep && steep.unknownShare > 0.001)
    notes.push(
      `Heights are missing on ${Math.max(1, Math.round(steep.unknownShare * 100))} % of the drift cone: steep ground there is not known.`,
    );
  if (steep?.coarser)
    notes.push(
      `The leg is so long that steep ground was looked for only every ${lengthInNote(steep.stepM, unit)}.`,
    );
  const trapped = hazards.filter(({ trap }) => trap !== null);
  if (trapped.length > 0)
    notes.push(
      "Terrain traps are a simple look down the fall line on a smoothed model: small gullies and steps are not seen, and how far a slide goes is not computed.",
    );
  return notes;
}

const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} or ${words.at(-1)}`;
