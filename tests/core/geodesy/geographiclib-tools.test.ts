import { spawnSync } from "node:child_process";
import { describe, expect, test } from "vitest";
import { direct, inverse } from "../../../core/geodesy/geodesic.ts";
import { Fault } from "../../../core/fault.ts";
import { formatMgrs } from "../../../core/geodesy/mgrs.ts";
import { parsePosition } from "../../../core/geodesy/parse-position.ts";
import { rhumbDirect, rhumbInverse } from "../../../core/geodesy/rhumb.ts";
import { toUtm } from "../../../core/geodesy/utm.ts";
import { normalise180, trueBearing } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";

// Random positions and legs against the tools of GeographicLib (Debian: geographiclib-tools), where they are installed.

const COUNT = 10_000;

/** Lines of a tool's answers; null when it is not installed. */
function ask(tool: string, args: string[], lines: string[]): string[] | null {
  const run = spawnSync(tool, args, { input: `${lines.join("\n")}\n`, encoding: "utf8", maxBuffer: 1 << 26 });
  if (run.error) return null;
  // The exit status is 1 as soon as one line could not be read; such a line is answered with "ERROR".
  if (run.stderr) throw new Error(`${tool} ${args.join(" ")}: ${run.stderr}`);
  return run.stdout.trim().split("\n");
}

const missing = ["GeoConvert", "GeodSolve", "RhumbSolve"].filter(
  (tool) => spawnSync(tool, ["--version"]).error,
);
if (missing.length > 0)
  console.warn(
    `Skipped: comparing ${COUNT} random positions needs ${missing.join(", ")} (geographiclib-tools).`,
  );

/** Mulberry32: the same draws on every machine. */
function randomSource(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const random = randomSource(20260501);
const between = (a: number, b: number): number => Number((a + random() * (b - a)).toFixed(9));
const positions = (maxLat: number): LonLat[] =>
  Array.from({ length: COUNT }, () => [between(-180, 180), between(-maxLat, maxLat)]);
const latLon = ([lon, lat]: LonLat): string => `${lat} ${lon}`;
const numbers = (line: string): number[] => line.trim().split(/\s+/).map(Number);

/** The worst of many deviations, and where: one assertion a quantity instead of ten thousand. */
function worst(): { of(value: number, where: string): void; readonly value: number; readonly where: string } {
  let [value, where] = [0, ""];
  return {
    of(v, w) {
      if (!(v <= value)) [value, where] = [v, w];
    },
    get value() {
      return value;
    },
    get where() {
      return where;
    },
  };
}

describe.skipIf(missing.length > 0)(
  `${COUNT} random positions against GeographicLib's tools`,
  { timeout: 60_000 },
  () => {
    test("UTM, UPS and MGRS: 1 mm, 1e-6°, 1e-9, every letter and figure", () => {
      const points = positions(90);
      const lines = points.map(latLon);
      const coordinates = ask("GeoConvert", ["-u", "-p", "6"], lines) ?? [];
      const factors = ask("GeoConvert", ["-c", "-p", "6"], lines) ?? [];
      const references = ask("GeoConvert", ["-m", "-p", "0"], lines) ?? [];
      expect([coordinates.length, factors.length, references.length]).toEqual([COUNT, COUNT, COUNT]);
      const metres = worst();
      const convergence = worst();
      const scale = worst();
      const otherReferences: string[] = [];
      points.forEach((point, i) => {
        const [zone = "", e = "", n = ""] = (coordinates[i] as string).split(" ");
        const [gamma = Number.NaN, k = Number.NaN] = numbers(factors[i] as string);
        const utm = toUtm(point);
        const where = lines[i] as string;
        if (zone !== (utm.zone === 0 ? "" : String(utm.zone).padStart(2, "0")) + utm.hemisphere.toLowerCase())
          metres.of(Infinity, `${where}: zone ${zone}`);
        metres.of(Math.hypot(utm.eastingM - Number(e), utm.northingM - Number(n)), where);
        convergence.of(Math.abs(normalise180(utm.convergenceDeg - gamma)), where);
        scale.of(Math.abs(utm.scale - k), where);
        const reference = formatMgrs(point);
        if (reference !== references[i])
          otherReferences.push(`${where}: ${reference} instead of ${references[i]}`);
      });
      expect(metres.value, metres.where).toBeLessThanOrEqual(0.001);
      expect(convergence.value, convergence.where).toBeLessThanOrEqual(1e-6);
      expect(scale.value, scale.where).toBeLessThanOrEqual(1e-9);
      expect(otherReferences).toEqual([]);
      console.log(
        `UTM: ${metres.value.toExponential(1)} m, ${convergence.value.toExponential(1)}°, scale ${scale.value.toExponential(1)}`,
      );
    });

    test("every square of a zone: the same ones exist, in the same place", () => {
      for (const zone of [31, 32, 33]) {
        const references: string[] = [];
        for (const band of "CDEFGHJKLMNPQRSTUVWX")
          for (const column of "ABCDEFGHJKLMNPQRSTUVWXYZ")
            for (const row of "ABCDEFGHJKLMNPQRSTUV") references.push(`${zone}${band}${column}${row}`);
        const answers = ask("GeoConvert", ["-g", "-p", "9"], references) ?? [];
        expect(answers).toHaveLength(references.length);
        const onlyTheirs: string[] = [];
        const metres = worst();
        references.forEach((reference, i) => {
          const answer = answers[i] as string;
          let mine: LonLat | null = null;
          try {
            mine = parsePosition(reference).lonLat;
          } catch (thrown) {
            if (!(thrown instanceof Fault)) throw thrown;
          }
          if (answer.startsWith("ERROR")) {
            if (mine) metres.of(Infinity, `${reference} does not exist`);
          } else if (mine) {
            const [lat = Number.NaN, lon = Number.NaN] = numbers(answer);
            metres.of(inverse(mine, [lon, lat]).distanceM, reference);
          } else onlyTheirs.push(reference);
        });
        expect(metres.value, metres.where).toBeLessThanOrEqual(0.001);
        // GeoConvert carries a zone on by a row of squares wholly beyond 80° S and 84° N; here they do not exist.
        expect(onlyTheirs).toHaveLength(10);
        expect(onlyTheirs.every((reference) => "CX".includes(reference.charAt(2)))).toBe(true);
      }
    });

    test("geodesics: 1 mm, 0.0001°", () => {
      const from = positions(90);
      // Half of them legs of up to 50 km, the others to anywhere.
      const to = positions(90).map((far, i): LonLat => {
        if (i % 2 === 1) return far;
        const [lon, lat] = from[i] as LonLat;
        return [
          Number(normalise180(lon + between(-0.3, 0.3)).toFixed(9)),
          Math.max(-90, Math.min(90, Number((lat + between(-0.3, 0.3)).toFixed(9)))),
        ];
      });
      const lines = from.map((point, i) => `${latLon(point)} ${latLon(to[i] as LonLat)}`);
      const answers = ask("GeodSolve", ["-i", "-p", "9"], lines) ?? [];
      expect(answers).toHaveLength(COUNT);
      const back =
        ask(
          "GeodSolve",
          ["-p", "9"],
          answers.map((line, i) => `${latLon(from[i] as LonLat)} ${numbers(line)[0]} ${numbers(line)[2]}`),
        ) ?? [];
      const metres = worst();
      const degrees = worst();
      const reached = worst();
      answers.forEach((line, i) => {
        const [azi1 = Number.NaN, azi2 = Number.NaN, s12 = Number.NaN] = numbers(line);
        const [lat2 = Number.NaN, lon2 = Number.NaN] = numbers(back[i] as string);
        const start = from[i] as LonLat;
        const result = inverse(start, to[i] as LonLat);
        const where = lines[i] as string;
        metres.of(Math.abs(result.distanceM - s12), where);
        degrees.of(Math.abs(normalise180(result.bearing - azi1)), where);
        degrees.of(Math.abs(normalise180(result.arrivalBearing - azi2)), where);
        reached.of(inverse(direct(start, trueBearing(azi1), s12), [lon2, lat2]).distanceM, where);
      });
      expect(metres.value, metres.where).toBeLessThanOrEqual(0.001);
      expect(degrees.value, degrees.where).toBeLessThanOrEqual(0.0001);
      expect(reached.value, reached.where).toBeLessThanOrEqual(0.001);
      console.log(
        `Geodesics: ${metres.value.toExponential(1)} m, ${degrees.value.toExponential(1)}°, direct ${reached.value.toExponential(1)} m`,
      );
    });

    test("rhumb lines: 1 mm, 0.0001°", () => {
      const from = positions(89);
      const to = positions(89).map((far, i): LonLat => {
        if (i % 2 === 1) return far;
        const [lon, lat] = from[i] as LonLat;
        return [
          Number(normalise180(lon + between(-0.3, 0.3)).toFixed(9)),
          Number((lat + (i % 4 === 0 ? 0 : between(-0.3, 0.3))).toFixed(9)),
        ];
      });
      const lines = from.map((point, i) => `${latLon(point)} ${latLon(to[i] as LonLat)}`);
      const answers = ask("RhumbSolve", ["-i", "-p", "9"], lines) ?? [];
      expect(answers).toHaveLength(COUNT);
      const metres = worst();
      const degrees = worst();
      const reached = worst();
      answers.forEach((line, i) => {
        const [azi = Number.NaN, s12 = Number.NaN] = numbers(line);
        const start = from[i] as LonLat;
        const end = to[i] as LonLat;
        const result = rhumbInverse(start, end);
        const where = lines[i] as string;
        metres.of(Math.abs(result.distanceM - s12), where);
        degrees.of(Math.abs(normalise180(result.bearing - azi)), where);
        reached.of(inverse(rhumbDirect(start, trueBearing(azi), s12), end).distanceM, where);
      });
      expect(metres.value, metres.where).toBeLessThanOrEqual(0.001);
      expect(degrees.value, degrees.where).toBeLessThanOrEqual(0.0001);
      expect(reached.value, reached.where).toBeLessThanOrEqual(0.001);
      console.log(
        `Rhumb lines: ${metres.value.toExponential(1)} m, ${degrees.value.toExponential(1)}°, direct ${reached.value.toExponential(1)} m`,
      );
    });
  },
);
