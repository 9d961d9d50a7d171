/** A small map drawn for one question: lines, areas, points, heights by a formula; and a leg on it with its advice. */
import { adviceOn } from "../../../../core/legs/advice/walk-advice.ts";
import { DEFAULT_ADVICE_SETTINGS } from "../../../../core/legs/advice/advice-settings.ts";
import type { LegAdvice } from "../../../../core/legs/advice/advice.ts";
import type { LegFigures } from "../../../../core/legs/figures.ts";
import { legFigures } from "../../../../core/legs/leg-figures.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../../core/legs/leg-settings.ts";
import type { AreaFeature, Attributes, LineFeature, PointFeature } from "../../../../core/map/features.ts";
import { type Kind, ROLES, type Role } from "../../../../core/map/kinds.ts";
import { areaKinds } from "../../../../core/map/role-kinds.ts";
import type { Ground } from "../../../../core/terrain/ground.ts";
import { bboxesMeet, bboxOf } from "../../../../core/units/position.ts";
import { drawn, hills, lineMap, pairs, place } from "../support/line-map.ts";

type En = readonly [eastM: number, northM: number];

export const line = (
  kind: Kind,
  points: readonly En[],
  name: string | null = null,
  attributes: Attributes = {},
): LineFeature => ({ ...drawn(kind, points, name), attributes });

export const point = (kind: Kind, [e, n]: En, name: string | null = null): PointFeature => ({
  kind,
  name,
  elevationM: NaN,
  lonLat: place(e, n),
  attributes: {},
});

export interface DrawnArea {
  readonly role: Role;
  readonly ring: readonly En[];
  readonly name?: string;
}

export interface SetPiece {
  readonly lines?: readonly LineFeature[];
  /** Their edges come as lines, as from an archive. */
  readonly areas?: readonly DrawnArea[];
  readonly points?: readonly PointFeature[];
  /** Height of the ground by metres east and north; null: no terrain. Level when left out. */
  readonly height?: ((eastM: number, northM: number) => number) | null;
  /** Roles the map shows; all when left out. */
  readonly shows?: readonly Role[];
  readonly from?: En;
  readonly to?: En;
}

const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };

export function groundOf({ lines = [], areas = [], points = [], height, shows = ROLES }: SetPiece): Ground {
  const closed = areas.map(({ role, ring, name = null }) => ({
    role,
    name,
    positions: [...ring, ring[0] as En],
  }));
  const edges = closed.flatMap(({ role, name, positions }) => {
    const { edge } = areaKinds(role);
    return edge ? [line(edge, positions, name)] : [];
  });
  const filled = closed.flatMap(({ role, name, positions }): AreaFeature[] => {
    const { area } = areaKinds(role);
    const ring = Float64Array.from(positions.flatMap(([e, n]) => place(e, n)));
    return area ? [{ kind: area, name, elevationM: NaN, rings: [ring], attributes: {} }] : [];
  });
  return {
    map: {
      ...lineMap([...lines, ...edges], {
        roles: Object.fromEntries(shows.map((role) => [role, { layer: role }])),
      }),
      areas: (box, kinds) =>
        filled.filter(({ kind, rings }) => {
          const own = bboxOf(pairs(rings[0] as Float64Array));
          return own !== null && bboxesMeet(own, box) && (!kinds || kinds.has(kind));
        }),
      points: (box, kinds) =>
        points.filter(
          ({ kind, lonLat: [lon, lat] }) =>
            bboxesMeet([lon, lat, lon, lat], box) && (!kinds || kinds.has(kind)),
        ),
    },
    elevation: height === null ? null : hills(height ?? (() => 100)),
  };
}

/** The leg runs 1000 m east where nothing else is said: north is its left. */
export function legOn(piece: SetPiece): LegFigures {
  const { from = [0, 0], to = [1000, 0] } = piece;
  return legFigures(
    { n: 1, from: { label: "A", lonLat: place(...from) }, to: { label: "B", lonLat: place(...to) } },
    groundOf(piece),
    settings,
  );
}

export async function advised(
  piece: SetPiece,
): Promise<{ readonly leg: LegFigures; readonly advice: LegAdvice }> {
  const leg = legOn(piece);
  return { leg, advice: await adviceOn(leg, groundOf(piece), settings, DEFAULT_ADVICE_SETTINGS) };
}

export const DEG = Math.PI / 180;
