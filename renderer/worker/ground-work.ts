/** The worker's calls: one open map at a time, figures on it. */
import { checkCourse } from "../../core/course/check-course.ts";
import { makeCourse, remakePoint } from "../../core/course/make-course.ts";
import type { Worksheet } from "../../core/course/drills/drill.ts";
import { makeWorksheet } from "../../core/course/drills/make-worksheet.ts";
import { Fault } from "../../core/fault.ts";
import type { LegAdvice } from "../../core/legs/advice/advice.ts";
import { adviceOn, walkEscape } from "../../core/legs/advice/walk-advice.ts";
import { snapPlace } from "../../core/legs/aids/snap-place.ts";
import { climbBetween } from "../../core/legs/bare-leg.ts";
import { archiveFacts } from "../../core/map/archive-facts.ts";
import type { Roles } from "../../core/map/set-roles.ts";
import { walkFigures } from "../../core/legs/walk-figures.ts";
import { type Ground, openGround } from "../../core/terrain/ground.ts";
import { slopeTile, slopeTileBox } from "../../core/terrain/slope-tile.ts";
import { growBbox } from "../../core/units/position.ts";
import { GROUND_DECODERS } from "../archive/ground-decoders.ts";
import { rangeSource } from "../archive/range-source.ts";
import { foreignWork } from "../exchange/foreign-work.ts";
import { namedPlaces } from "../find/named-places.ts";
import { lineNear, spotsAfterWalk, spotsOnLine } from "../fix/fix-work.ts";
import type { Handlers } from "./dispatch.ts";
import { groundAt, landmarksFrom } from "./ground-questions.ts";
import type { ArchiveAddress, OpenedGround, WalkEscape } from "./messages.ts";

/** Enough around a place for the bilinear height of any cell. */
const ELEVATION_REACH_M = 100;

async function open(
  archive: ArchiveAddress,
  terrain: ArchiveAddress | null,
  roles: Roles | null,
): Promise<[Ground, Fault | null]> {
  const vectors = rangeSource(archive.url, archive.key);
  if (!terrain) return [await openGround(vectors, null, GROUND_DECODERS, roles), null];
  try {
    return [await openGround(vectors, rangeSource(terrain.url, terrain.key), GROUND_DECODERS, roles), null];
  } catch (thrown) {
    // A damaged terrain archive must not take the map away: heights then come from its contours. When it is the map
    // itself that is damaged, this throws again.
    return [await openGround(vectors, null, GROUND_DECODERS, roles), Fault.from(thrown)];
  }
}

function onMap(ground: Ground | null): Ground {
  if (ground) return ground;
  throw new Fault("unavailable", "A course needs a map.", null, "Open a map first.");
}

export function groundWork(): Handlers {
  let ground: Ground | null = null;

  return {
    async openMap(signal, archive, terrain, roles): Promise<OpenedGround> {
      const [opened, terrainFault] = await open(archive, terrain, roles);
      // A map asked for later may have been opened meanwhile.
      if (!signal.aborted) ground = opened;
      return {
        info: opened.map.info,
        hasTerrain: opened.elevation !== null,
        terrainFault: terrainFault?.toRecord() ?? null,
      };
    },

    archiveFacts: (_signal, { url, key }) => archiveFacts(rangeSource(url, key), GROUND_DECODERS),

    async closeMap() {
      ground = null;
      return null;
    },

    figures: (signal, ends, settings) => walkFigures(ends, ground, settings, signal),

    async advice(signal, ends, settings, advice, n): Promise<LegAdvice> {
      const on = ground;
      // Of the two ends alone: no leg needs its neighbours.
      const { legs } = await walkFigures(ends.slice(n - 1, n + 1), on, settings, signal);
      const leg = legs[0];
      if (!leg) throw new Fault("bad-argument", `There is no leg ${n}.`);
      return adviceOn({ ...leg, n }, on, settings, advice, signal);
    },

    async walkEscape(signal, ends, settings, advice): Promise<WalkEscape> {
      const on = ground;
      const { legs } = await walkFigures(ends, on, settings, signal);
      return walkEscape(legs, on, settings, advice, signal);
    },

    async elevationAt(signal, lonLat) {
      const model = ground?.elevation;
      if (!model) return null;
      await model.prepare(growBbox([lonLat[0], lonLat[1], lonLat[0], lonLat[1]], ELEVATION_REACH_M), signal);
      const height = model.at(lonLat);
      return Number.isFinite(height) ? height : null;
    },

    snapPlace: async (signal, lonLat, reachM) => ground && snapPlace(ground, lonLat, reachM, signal),

    climbBetween: async (signal, from, to, settings) =>
      ground && climbBetween(ground, from, to, settings, signal),

    async namedPlaces(signal, bbox) {
      const map = ground?.map;
      if (!map) return [];
      await map.prepare(bbox, signal);
      return namedPlaces(map, bbox);
    },

    groundAt: async (signal, lonLat) => ground && groundAt(ground, lonLat, signal),

    landmarksFrom: async (signal, lonLat) => ground && landmarksFrom(ground, lonLat, signal),

    lineNear: async (signal, lonLat, reachM) => ground && lineNear(ground, lonLat, reachM, signal),

    spotsOnLine: async (signal, question) => ground && spotsOnLine(ground, question, signal),

    spotsAfterWalk: async (signal, question) => ground && spotsAfterWalk(ground, question, signal),

    async slopeTile(signal, tile) {
      const model = ground?.elevation;
      if (!model) return null;
      await model.prepare(slopeTileBox(tile), signal);
      return slopeTile(model, tile);
    },

    async worksheet(signal, wish, settings): Promise<Worksheet> {
      if (!ground) throw new Fault("unavailable", "A worksheet needs a map.", null, "Open a map first.");
      return makeWorksheet(wish, ground, settings, signal);
    },

    setCourse: async (signal, wish, settings) => makeCourse(wish, onMap(ground), settings, signal),

    remakePoint: async (signal, course, n, seed, settings) =>
      remakePoint(course, n, seed, onMap(ground), settings, signal),

    checkCourse: async (signal, wish, points, settings) =>
      checkCourse(wish, points, onMap(ground), settings, signal),

    ...foreignWork(),
  };
}
