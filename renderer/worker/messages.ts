/** What the window may ask of the worker, and how questions and answers cross. */
import type { CheckedCourse } from "../../core/course/check-course.ts";
import type { Course, CoursePoint, CourseWish } from "../../core/course/course.ts";
import type { CourseSettings } from "../../core/course/leg-judge.ts";
import type { DrillWish, Worksheet } from "../../core/course/drills/drill.ts";
import type { FaultRecord } from "../../core/fault.ts";
import type { EscapeFigure, LegAdvice } from "../../core/legs/advice/advice.ts";
import type { AdviceSettings } from "../../core/legs/advice/advice-settings.ts";
import type { SnapPlace } from "../../core/legs/aids/snap-place.ts";
import type { LegEnd } from "../../core/legs/leg-figures.ts";
import type { LegSettings } from "../../core/legs/leg-settings.ts";
import type { WalkFigures } from "../../core/legs/figures.ts";
import type { ArchiveFacts } from "../../core/map/archive-facts.ts";
import type { MapInfo } from "../../core/map/metadata.ts";
import type { Roles } from "../../core/map/set-roles.ts";
import type { Bbox, LonLat } from "../../core/units/position.ts";
import type { Climb } from "../../core/terrain/climb.ts";
import type { SlopeTile } from "../../core/terrain/slope-tile.ts";
import type { TileAddress } from "../../core/map/tile-grid.ts";
import type { NamedPlace } from "../find/named-places.ts";
import type {
  ForeignChoice,
  ForeignLook,
  ForeignOptions,
  ForeignWalk,
} from "../exchange/foreign-messages.ts";
import type { LineNear, OnLineQuestion, Spots, TrackQuestion } from "../fix/fix-messages.ts";
import type { GroundReading, Landmarks } from "./ground-questions.ts";

/** Where the worker reads an archive. `key` is its file name, for messages. */
export interface ArchiveAddress {
  readonly url: string;
  readonly key: string;
}

export type WalkEnd = LegEnd;

export interface WalkEscape {
  readonly escape: EscapeFigure | null;
  readonly notes: readonly string[];
}

export interface OpenedGround {
  readonly info: MapInfo;
  readonly hasTerrain: boolean;
  /** Why the terrain archive could not be used; null when it could, or when there is none. */
  readonly terrainFault: FaultRecord | null;
}

/** Every question. Arguments and answers are plain data. */
export interface WorkerCalls {
  /** Opens a map, with roles set by a person or its own; figures are worked out on it from then on. */
  openMap(archive: ArchiveAddress, terrain: ArchiveAddress | null, roles: Roles | null): OpenedGround;
  /** What is in the layers of an archive, whether it is open or not. */
  archiveFacts(archive: ArchiveAddress): ArchiveFacts;
  closeMap(): null;
  /** Figures of a whole walk on the open map, or without a map when none is open. */
  figures(ends: readonly WalkEnd[], settings: LegSettings): WalkFigures;
  /** Odds, what would help, and ways out, of the leg that is the `n`th of a walk, from 1. Takes long: up to a second. */
  advice(ends: readonly WalkEnd[], settings: LegSettings, advice: AdviceSettings, n: number): LegAdvice;
  /** One way out for a whole walk; null with the reasons where none serves. */
  walkEscape(ends: readonly WalkEnd[], settings: LegSettings, advice: AdviceSettings): WalkEscape;
  /** Height of the ground, metres above the map's datum; null where unknown. */
  elevationAt(lonLat: LonLat): number | null;
  /** What a point put down near it is meant for; null where nothing is near, and without a map. */
  snapPlace(lonLat: LonLat, reachM: number): SnapPlace | null;
  /** Climb and descent between two places; null where they cannot be known. */
  climbBetween(from: LonLat, to: LonLat, settings: Pick<LegSettings, "climbThresholdM">): Climb | null;
  /** What has a name within a box on the open map. */
  namedPlaces(bbox: Bbox): readonly NamedPlace[];
  /** What the ground at a place is; null without a map. */
  groundAt(lonLat: LonLat): GroundReading | null;
  /** Named landmarks around a place, in view or hidden; null without a map. */
  landmarksFrom(lonLat: LonLat): Landmarks | null;
  /** The line a person means at a place; null where none is within reach, and without a map. */
  lineNear(lonLat: LonLat, reachM: number): LineNear | null;
  /** Where one may stand on a line, and after a walk; null without a map. */
  spotsOnLine(question: OnLineQuestion): Spots | null;
  spotsAfterWalk(question: TrackQuestion): Spots | null;
  /** Slope of the ground over a tile; null where the open map has no terrain. */
  slopeTile(tile: TileAddress): SlopeTile | null;
  /** Questions on the open map. */
  worksheet(wish: DrillWish, settings: LegSettings): Worksheet;
  /** A practice course; one point of one anew; the rules of one moved by hand. */
  setCourse(wish: CourseWish, settings: CourseSettings): Course;
  remakePoint(course: Course, n: number, seed: number, settings: CourseSettings): Course;
  checkCourse(wish: CourseWish, points: readonly CoursePoint[], settings: CourseSettings): CheckedCourse;
  /** Reads a file of another program and keeps it for `foreignWalk`. */
  readForeign(bytes: Uint8Array, name: string, options: ForeignOptions): ForeignLook;
  /** The walk that a choice from the file read last would give. */
  foreignWalk(choice: ForeignChoice): ForeignWalk;
}

export type CallName = keyof WorkerCalls;

export type Question = {
  [N in CallName]: { readonly id: number; readonly call: N; readonly args: Parameters<WorkerCalls[N]> };
}[CallName];

/** A ping asks whether anybody is there; it is answered between pieces of work. */
export type ToWorker =
  | Question
  | { readonly cancel: number }
  | { readonly ping: true }
  /** Whose way figures are written in from now on; null for the system's own. */
  | { readonly figuresOf: string | null };

export type FromWorker =
  | { readonly pong: true }
  | { readonly id: number; readonly ok: true; readonly value: unknown }
  | { readonly id: number; readonly ok: false; readonly fault: FaultRecord };
