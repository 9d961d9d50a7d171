/**
 * One point of a walk dragged over 200 positions, as the worker does it: the whole walk is asked for at each position,
 * its two changed legs are worked out with everything, and the answer is cloned as it would be to cross to the window.
 * "processor": time on the processor, garbage collection included, which other work on the machine does not lengthen.
 * "cold": on a map just opened, tiles read and decoded on the way; "warm": the same way again, a little beside.
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { cpus, loadavg } from "node:os";
import { bench, describe } from "vitest";
import { inverse } from "../../core/geodesy/geodesic.ts";
import type { WalkFigures } from "../../core/legs/figures.ts";
import { DEFAULT_LEG_SETTINGS } from "../../core/legs/leg-settings.ts";
import { walkFigures } from "../../core/legs/walk-figures.ts";
import { bytesSource } from "../../core/map/source.ts";
import { type Ground, openGround } from "../../core/terrain/ground.ts";
import type { LonLat } from "../../core/units/position.ts";
import { parseWalk } from "../../core/walk/walk-file.ts";
import { DENSE_WALK, denseGround } from "./support/dense-map.ts";

const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };
const POSITIONS = 200;
const SAMPLE = new URL("../../sample-maps/", import.meta.url);

interface Drag {
  readonly title: string;
  readonly ground: Ground;
  readonly walk: readonly LonLat[];
  /** Which point is dragged: one in the middle, so that two legs change. */
  readonly point: number;
}

/** A spiral of 300 m about the point's place; `shift` makes each pass new to the cache. */
function draggedTo([lon, lat]: LonLat, i: number, shift: number): LonLat {
  const turn = i / 9;
  const away = (0.003 * i) / POSITIONS + shift * 1e-6;
  return [lon + away * Math.cos(turn), lat + away * Math.sin(turn)];
}

async function step({ ground, walk, point }: Drag, i: number, shift: number): Promise<WalkFigures> {
  const ends = walk.map((lonLat, k) => ({
    label: String(k),
    lonLat: k === point ? draggedTo(lonLat, i, shift) : lonLat,
  }));
  return structuredClone(await walkFigures(ends, ground, settings));
}

async function pass(
  drag: Drag,
  shift: number,
): Promise<{ times: number[]; cpu: number[]; found: Record<string, number> }> {
  const times: number[] = [];
  const cpu: number[] = [];
  const found = { crossings: 0, handrails: 0, backstops: 0, samples: 0 };
  for (let i = 0; i < POSITIONS; i++) {
    const busy = process.cpuUsage();
    const start = performance.now();
    const { legs } = await step(drag, i, shift);
    times.push(performance.now() - start);
    const { user, system } = process.cpuUsage(busy);
    cpu.push((user + system) / 1000);
    for (const leg of [legs[drag.point - 1], legs[drag.point]]) {
      found.crossings += leg?.crossings.length ?? 0;
      found.handrails += leg?.handrails.length ?? 0;
      found.backstops += leg?.backstop ? 1 : 0;
      found.samples += leg?.profile.distanceM.length ?? 0;
    }
  }
  return { times, cpu, found };
}

function spread(times: readonly number[]): string {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (share: number): string =>
    (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN).toFixed(2);
  return `p50 ${at(0.5)}  p95 ${at(0.95)}  max ${at(1)} ms`;
}

async function sampleDrag(): Promise<Drag | null> {
  if (!existsSync(SAMPLE)) return null;
  const files = readdirSync(SAMPLE);
  const archive = files.find((file) => file.endsWith(".pmtiles") && !file.endsWith(".terrain.pmtiles"));
  const walkFile = files.find((file) => file.endsWith(".walk.geojson"));
  if (!archive || !walkFile) return null;
  const read = (file: string): Uint8Array => new Uint8Array(readFileSync(new URL(file, SAMPLE)));
  const terrain = archive.replace(/\.pmtiles$/, ".terrain.pmtiles");
  const ground = await openGround(
    bytesSource(archive, read(archive)),
    files.includes(terrain) ? bytesSource(terrain, read(terrain)) : null,
  );
  const { walk } = parseWalk(readFileSync(new URL(walkFile, SAMPLE), "utf8"), walkFile, settings.date);
  const points = walk.points.map(({ lonLat }) => lonLat);
  return {
    title: `sample map, ${points.length - 1} legs`,
    ground,
    walk: points,
    point: Math.floor(points.length / 2),
  };
}

const dense = await denseGround();
const drags: Drag[] = [
  ...[await sampleDrag()].filter((drag) => drag !== null),
  { title: "dense map with terrain", ground: dense, walk: DENSE_WALK, point: 5 },
  {
    title: "dense map, contours alone",
    ground: { map: dense.map, elevation: null },
    walk: DENSE_WALK,
    point: 5,
  },
  {
    title: "dense map, legs of 5 km",
    ground: dense,
    walk: [
      [20.42, -34.055],
      [20.46, -34.03],
      [20.5, -34.0],
    ],
    point: 1,
  },
];

console.log(
  `${cpus()[0]?.model ?? "?"} × ${cpus().length}, Node ${process.version}, load ${loadavg()[0]?.toFixed(1)}`,
);
for (const drag of drags) {
  const { walk, point, title } = drag;
  const lengths = [point - 1, point].map((k) =>
    Math.round(inverse(walk[k] as LonLat, walk[k + 1] as LonLat).distanceM),
  );
  const cold = await pass(drag, 0);
  const warm = await pass(drag, 1);
  const per = Object.entries(warm.found).map(([what, n]) => `${(n / POSITIONS).toFixed(1)} ${what}`);
  console.log(
    `${title} (dragged legs ${lengths.join(" m, ")} m)\n  cold ${spread(cold.times)} (processor ${spread(cold.cpu)})\n  warm ${spread(warm.times)} (processor ${spread(warm.cpu)})\n  per position: ${per.join(", ")}`,
  );
}

describe("drag one point", () => {
  for (const drag of drags) {
    let i = 0;
    // Every run is a new position: the cache of legs never answers for the two that change.
    bench(drag.title, async () => void (await step(drag, i++ % POSITIONS, 2 + i / POSITIONS)), {
      iterations: POSITIONS,
      time: 1000,
    });
  }
});
